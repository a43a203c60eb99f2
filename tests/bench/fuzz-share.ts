import { fftMicroseconds, QUIET_CORE_US } from './yardstick.ts';

/** The share of `test:long`'s strangers that this machine gets through in the time of a quiet core: for `TWOBAR_FUZZ`. */
console.log(Math.min(1, QUIET_CORE_US / fftMicroseconds()).toFixed(2));
