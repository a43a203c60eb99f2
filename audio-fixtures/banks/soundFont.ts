import { closeSync, openSync, readSync } from 'node:fs';

/** One sample header of a SoundFont 2 file (SoundFont Technical Specification 2.01, §7.10), whole frames. */
export interface FontSample {
  readonly name: string;
  readonly start: number;
  readonly end: number;
  readonly loopStart: number;
  readonly loopEnd: number;
  readonly sampleRate: number;
}
export interface SoundFont {
  readonly samples: readonly FontSample[];
  /** Mono float PCM, ±1, of frames `start`…`end`. */
  read(sample: FontSample): Float32Array;
}

const HEADER_BYTES = 46;

function chunkAt(file: number, at: number): { id: string; size: number } {
  const head = Buffer.alloc(8);
  readSync(file, head, 0, 8, at);
  return { id: head.toString('latin1', 0, 4), size: head.readUInt32LE(4) };
}

/** Where chunk `id` of list `list` keeps its bytes. */
function find(file: number, list: string, id: string): { at: number; size: number } {
  const end = 8 + chunkAt(file, 0).size;
  for (let at = 12; at < end;) {
    const outer = chunkAt(file, at);
    const kind = Buffer.alloc(4);
    readSync(file, kind, 0, 4, at + 8);
    if (outer.id === 'LIST' && kind.toString('latin1') === list)
      for (let inner = at + 12; inner < at + 8 + outer.size;) {
        const chunk = chunkAt(file, inner);
        if (chunk.id === id) return { at: inner + 8, size: chunk.size };
        inner += 8 + chunk.size + (chunk.size & 1);
      }
    at += 8 + outer.size + (outer.size & 1);
  }
  throw new RangeError(`no chunk ${list}/${id}: not a SoundFont 2 file`);
}

/** Opens a .sf2 file's sample list; sample data is read when asked for. */
export function openSoundFont(path: string): SoundFont {
  const file = openSync(path, 'r');
  const data = find(file, 'sdta', 'smpl');
  const headers = find(file, 'pdta', 'shdr');
  const bytes = Buffer.alloc(headers.size);
  readSync(file, bytes, 0, headers.size, headers.at);
  closeSync(file);
  const samples: FontSample[] = [];
  for (let at = 0; at + HEADER_BYTES <= bytes.length; at += HEADER_BYTES)
    samples.push({
      name: bytes.toString('latin1', at, at + 20).split('\0')[0]!,
      start: bytes.readUInt32LE(at + 20),
      end: bytes.readUInt32LE(at + 24),
      loopStart: bytes.readUInt32LE(at + 28),
      loopEnd: bytes.readUInt32LE(at + 32),
      sampleRate: bytes.readUInt32LE(at + 36),
    });
  const read = ({ start, end }: FontSample): Float32Array => {
    const raw = Buffer.alloc(2 * (end - start));
    const again = openSync(path, 'r');
    readSync(again, raw, 0, raw.length, data.at + 2 * start);
    closeSync(again);
    return Float32Array.from({ length: end - start }, (_, i) => raw.readInt16LE(2 * i) / 32768);
  };
  return { samples, read };
}
