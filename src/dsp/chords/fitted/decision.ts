import type { Thresholds } from '../claims.ts';
import type { NetworkData } from '../network.ts';
import data from './decision.json' with { type: 'json' };

/** Log-odds at which a fault is claimed; `made` in the file says on what all of this was fitted. */
export const THRESHOLDS: { readonly undriven: Thresholds; readonly driven: Thresholds } = data.thresholds;
/** Log-odds to probability, for classes asked for and foreign ones. */
export const CALIBRATION = data.calibration;
export const NETWORK: NetworkData = data.network;
