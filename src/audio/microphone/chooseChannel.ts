/** A channel must be this much louder to take over: 6 dB, more than a stereo pair's usual difference. */
const TAKE_OVER_RATIO = 4;
/** Energies are remembered for about this long, so that the choice does not follow single notes. */
const MEMORY_SEC = 1;

/** Picks the input channel: a fixed one, or the louder by remembered energy. Never an average. */
export interface ChannelChooser {
  /** The channel to use for this block (0 when there is one); call with each block in turn. */
  choose(channels: readonly Float32Array[]): number;
}

export function createChannelChooser(wanted: number | 'louder', sampleRate: number): ChannelChooser {
  let energies: number[] = [];
  let current = 0;
  return {
    choose(channels) {
      if (wanted !== 'louder') return Math.min(wanted, Math.max(0, channels.length - 1));
      if (energies.length !== channels.length) {
        energies = channels.map(() => 0);
        current = 0;
      }
      const keep = Math.exp(-(channels[0]?.length ?? 0) / (MEMORY_SEC * sampleRate));
      channels.forEach((samples, c) => {
        energies[c] = energies[c]! * keep + energyOf(samples);
        if (energies[c]! > energies[current]! * TAKE_OVER_RATIO) current = c;
      });
      return current;
    },
  };
}

export function energyOf(samples: Float32Array): number {
  let sum = 0;
  for (const value of samples) sum += value * value;
  return sum;
}
