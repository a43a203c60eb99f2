export { backingCues } from './backing.ts';
export { clashes, type Clashes } from './clash.ts';
export { STYLE_NAMES } from './styles.ts';
export { harmonised } from './harmonised.ts';
