/**
 * Penalties of the fit, on standardised features: those the four-fold cross-validation was flattest around
 * (1…10 and 10…100 differ by less than 0.001 in onset F1).
 */
export const RIDGES = { ridge: 3, ridgeProducts: 30 } as const;
