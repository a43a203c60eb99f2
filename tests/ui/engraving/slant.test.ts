import { describe, expect, it } from 'vitest';
import { beamSlant } from '../../../src/ui/engraving/slant.ts';

describe('the slant of a beam', () => {
  it('is none over one pitch, over two that alternate, and where an inner note comes nearest', () => {
    expect(beamSlant([3, 3, 3], true)).toBe(0);
    expect(beamSlant([3, 4, 3, 4], true)).toBe(0);
    expect(beamSlant([3, 5, 4], true)).toBe(0);
    expect(beamSlant([3, 1, 2], false)).toBe(0);
  });
  it('follows the interval between the ends, up and down, and never exceeds two spaces', () => {
    expect([1, 2, 3, 7, 12].map((to) => beamSlant([0, to], true))).toEqual([0.5, 1, 1.25, 2, 2]);
    expect(beamSlant([4, 1, 2], true)).toBe(-1);
    expect(beamSlant([4, 6, 2], false)).toBe(-1);
  });
});
