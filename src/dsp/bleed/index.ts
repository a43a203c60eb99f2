export { hearOverBacking, type OverOptions } from './hearOver.ts';
export { BLEED_RATE } from './align.ts';
export { cancelBacking, type Cancelled } from './cancel.ts';
