import { absentFamilies, absentNoises, loadBanks, type Bank } from '../../audio-fixtures/index.ts';

/**
 * With one bank less a fit would be another one, and nothing would say so.
 * @throws Error naming what is not installed, and how to install it
 */
export function refuseMissing(missing: readonly string[]): void {
  if (missing.length > 0)
    throw new Error(
      `a fit needs every bank, and these are not installed: ${missing.join(', ')}. Run "npm ci" and "apt-get install fluid-soundfont-gm freepats espeak-ng" with what audio-fixtures/README.md names, then fit again.`,
    );
}

/** Every bank of recorded notes. @throws Error as {@link refuseMissing} */
export async function allBanks(): Promise<readonly Bank[]> {
  const { all, absent } = await loadBanks();
  refuseMissing([...absent, ...absentNoises(), ...absentFamilies()]);
  return all;
}
