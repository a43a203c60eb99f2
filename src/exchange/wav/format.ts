import { ExchangeError } from '../error.ts';
import type { Riff } from './chunks.ts';

export interface WavFormat {
  readonly encoding: 'int' | 'float';
  readonly channels: 1 | 2;
  readonly sampleRate: number;
  /** Bytes of one sample as stored; 20 bits in 3 bytes are left-justified and read as 24. */
  readonly bytes: number;
}

/** Format tags of the `fmt ` chunk (RFC 2361 and the WAVE_FORMAT_EXTENSIBLE description). */
const PCM = 1;
const IEEE_FLOAT = 3;
const EXTENSIBLE = 0xfffe;
/** In an extensible header the real tag is the first two bytes of the sub-format GUID. */
const SUB_FORMAT_OFFSET = 24;

export const LOWEST_RATE = 8000;
export const HIGHEST_RATE = 192_000;

/** Reads and checks the `fmt ` chunk. */
export function readFormat({ view, littleEndian, chunks }: Riff): WavFormat {
  const chunk = chunks.find((c) => c.id === 'fmt ');
  const room = chunk ? Math.min(chunk.declared, view.byteLength - chunk.start) : 0;
  if (!chunk || room < 16) throw new ExchangeError('wav-header');
  const u16 = (offset: number) => view.getUint16(chunk.start + offset, littleEndian);
  const outer = u16(0);
  const tag = outer === EXTENSIBLE && room >= SUB_FORMAT_OFFSET + 2 ? u16(SUB_FORMAT_OFFSET) : outer;
  const channels = u16(2);
  const sampleRate = view.getUint32(chunk.start + 4, littleEndian);
  const frameBytes = u16(12);
  const bits = u16(14);
  if (tag !== PCM && tag !== IEEE_FLOAT) throw new ExchangeError('wav-compressed', { format: String(tag) });
  if (channels !== 1 && channels !== 2) throw new ExchangeError('wav-channels', { channels });
  if (sampleRate < LOWEST_RATE || sampleRate > HIGHEST_RATE)
    throw new ExchangeError('wav-rate', { rate: sampleRate, lowest: LOWEST_RATE, highest: HIGHEST_RATE });
  const bytes = Math.ceil(bits / 8);
  const known = tag === PCM ? bytes >= 1 && bytes <= 4 : bits === 32 || bits === 64;
  if (!known || frameBytes !== bytes * channels)
    throw new ExchangeError('wav-bits', { bits, bytes: frameBytes });
  return { encoding: tag === PCM ? 'int' : 'float', channels, sampleRate, bytes };
}
