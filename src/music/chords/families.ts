/** Kinds of chord shape that a list may be made of. */
export const SHAPE_FAMILIES = ['open', 'barre', 'power', 'seventh', 'extended', 'slash', 'triad'] as const;
export type ShapeFamily = (typeof SHAPE_FAMILIES)[number];
