import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { OfflineAudioContext } from 'node-web-audio-api';
import { describe, expect, it } from 'vitest';
import { ExchangeError, louderChannel, readWav, writeWav } from '../../../src/exchange/index.ts';

const RATE = 44_100;
const wave = (length: number, gain = 0.5) =>
  Float32Array.from({ length }, (_, i) => gain * Math.sin((2 * Math.PI * 441 * i) / RATE));

interface Made {
  readonly tag?: number;
  readonly bits?: number;
  readonly channels?: number;
  readonly rate?: number;
  readonly before?: Uint8Array;
  readonly after?: Uint8Array;
  readonly declared?: number;
  readonly bigEndian?: boolean;
}

/** A file made by hand from raw sample bytes. */
function file(data: Uint8Array, made: Made = {}): Uint8Array {
  const { tag = 1, bits = 16, channels = 1, rate = RATE, bigEndian = false } = made;
  const le = !bigEndian;
  const extensible = tag === 0xfffe;
  const fmt = new DataView(new ArrayBuffer(extensible ? 40 : 16));
  fmt.setUint16(0, tag, le);
  fmt.setUint16(2, channels, le);
  fmt.setUint32(4, rate, le);
  fmt.setUint32(8, (rate * channels * bits) / 8, le);
  fmt.setUint16(12, (channels * bits) / 8, le);
  fmt.setUint16(14, bits, le);
  if (extensible) {
    fmt.setUint16(16, 22, le);
    fmt.setUint16(18, bits, le);
    fmt.setUint16(24, 1, le);
  }
  const size = (n: number) => {
    const bytes = new DataView(new ArrayBuffer(4));
    bytes.setUint32(0, n, le);
    return new Uint8Array(bytes.buffer);
  };
  const text = (s: string) => new TextEncoder().encode(s);
  return Uint8Array.from(
    [
      text(bigEndian ? 'RIFX' : 'RIFF'),
      size(0),
      text('WAVEfmt '),
      size(fmt.byteLength),
      new Uint8Array(fmt.buffer),
      made.before ?? new Uint8Array(),
      text('data'),
      size(made.declared ?? data.length),
      data,
      made.after ?? new Uint8Array(),
    ].flatMap((part) => [...part]),
  );
}

const ints16 = (values: readonly number[]) => new Uint8Array(Int16Array.from(values).buffer);

describe('reading a WAV file', () => {
  it('gives full scale as ±1 in every width', () => {
    expect([...readWav(file(Uint8Array.of(0, 128, 192), { bits: 8 })).channels[0]!]).toEqual([-1, 0, 0.5]);
    expect([...readWav(file(ints16([-32768, 0, 16384]))).channels[0]!]).toEqual([-1, 0, 0.5]);
    const three = Uint8Array.of(0, 0, 0x80, 0, 0, 0, 0, 0, 0x40);
    expect([...readWav(file(three, { bits: 24 })).channels[0]!]).toEqual([-1, 0, 0.5]);
    const four = new Uint8Array(Int32Array.from([-(2 ** 31), 0, 2 ** 30]).buffer);
    expect([...readWav(file(four, { bits: 32 })).channels[0]!]).toEqual([-1, 0, 0.5]);
    const float = new Uint8Array(Float32Array.from([-1, 0, 1.5]).buffer);
    expect([...readWav(file(float, { tag: 3, bits: 32 })).channels[0]!]).toEqual([-1, 0, 1.5]);
    const double = new Uint8Array(Float64Array.from([-1, 0, 0.5]).buffer);
    expect([...readWav(file(double, { tag: 3, bits: 64 })).channels[0]!]).toEqual([-1, 0, 0.5]);
  });
  it('reads extensible headers and big-endian files', () => {
    expect([...readWav(file(ints16([16384]), { tag: 0xfffe })).channels[0]!]).toEqual([0.5]);
    expect([...readWav(file(Uint8Array.of(0x40, 0), { bigEndian: true })).channels[0]!]).toEqual([0.5]);
    expect([...readWav(file(Uint8Array.of(0x40, 0, 0), { bigEndian: true, bits: 24 })).channels[0]!]).toEqual(
      [0.5],
    );
  });
  it('parts two channels and hands out the louder, never the average', () => {
    const data = ints16(
      Array.from({ length: 200 }, (_, i) => (i % 2 === 0 ? 10 : i % 4 === 1 ? 8000 : -8000)),
    );
    const wav = readWav(file(data, { channels: 2 }));
    expect(wav.channels.map((c) => c.length)).toEqual([100, 100]);
    expect(louderChannel(wav)).toBe(wav.channels[1]);
    const inverted = { sampleRate: RATE, channels: [wave(100), wave(100, -0.5)] };
    expect(louderChannel(inverted)).toEqual(wave(100));
  });
  it('is not put off by other chunks, odd ones without their pad byte, or trailing junk', () => {
    const junk = new TextEncoder().encode('junk\x03\x00\x00\x00abc');
    const padded = new TextEncoder().encode('LIST\x03\x00\x00\x00abc\x00');
    for (const before of [junk, padded])
      expect([
        ...readWav(file(ints16([16384]), { before, after: Uint8Array.of(1, 2, 3, 4, 5) })).channels[0]!,
      ]).toEqual([0.5]);
  });
  it('takes what is there where a writer to a pipe left the length open', () => {
    for (const declared of [0xffff_ffff, 0x7fff_ff00])
      expect(readWav(file(ints16([1, 2, 3]), { declared })).channels[0]).toHaveLength(3);
  });
  it.each([
    ['nothing', new Uint8Array(), /is empty/],
    ['text', new TextEncoder().encode('{"version": 1, "kind": "melody"}'), /not a WAV recording/],
    ['an mp3 header', Uint8Array.of(0x49, 0x44, 0x33, 4, 0, 0, 0, 0, 0, 0, 0, 0, 0), /not a WAV recording/],
    ['half a header', writeWav(wave(10), RATE).slice(0, 30), /no complete header/],
    ['a cut', writeWav(wave(100), RATE).slice(0, 150), /cut short: 106 of 200 bytes/],
    ['no samples', writeWav(new Float32Array(), RATE), /holds no samples/],
    ['compressed sound', file(ints16([1]), { tag: 0x55 }), /compressed sound \(format 85\)/],
    ['six channels', file(ints16([1, 2, 3, 4, 5, 6]), { channels: 6 }), /6 channels/],
    ['a rate of 4 kHz', file(ints16([1]), { rate: 4000 }), /4000 samples a second/],
    ['no rate', file(ints16([1]), { rate: 0 }), /0 samples a second/],
    ['12-bit floats', file(ints16([1]), { tag: 3, bits: 16 }), /16 bits/],
    ['no data chunk', writeWav(wave(10), RATE).slice(0, 36), /no sound in it/],
    [
      'five hours',
      file(new Uint8Array(8000 * 3601), { bits: 8, rate: 8000 }),
      /lasts 60 minutes; at most 60/,
    ],
  ])('%s is refused in one sentence', (_, bytes, message) => {
    expect(() => readWav(bytes)).toThrow(ExchangeError);
    expect(() => readWav(bytes)).toThrow(message);
  });
  it('mutated files are read or refused, never anything else, and never with more samples than bytes', () => {
    const good = writeWav(wave(200), RATE);
    const place = fc.tuple(fc.nat(60), fc.integer({ min: 0, max: 255 }));
    fc.assert(
      fc.property(fc.array(place, { minLength: 1, maxLength: 4 }), fc.nat(good.length), (changes, length) => {
        const bytes = good.slice(0, length);
        for (const [at, value] of changes) if (at < bytes.length) bytes[at] = value;
        try {
          const wav = readWav(bytes);
          expect(wav.channels[0]!.length).toBeLessThanOrEqual(bytes.length);
        } catch (error) {
          expect(error).toBeInstanceOf(ExchangeError);
          expect((error as Error).message).toMatch(/^[A-Z][^\n]+\.$/);
        }
      }),
      { numRuns: 5000 },
    );
  });
});

describe('writing a WAV file', () => {
  it('and reading it back moves no sample by more than one step', () => {
    fc.assert(
      fc.property(fc.array(fc.float({ min: -1, max: 1, noNaN: true }), { minLength: 1 }), (values) => {
        const samples = Float32Array.from(values);
        const wav = readWav(writeWav(samples, 48_000));
        expect(wav.sampleRate).toBe(48_000);
        wav.channels[0]!.forEach((x, i) => expect(Math.abs(x - samples[i]!)).toBeLessThan(2 ** -15 + 1e-7));
      }),
    );
  });
  it('clips, silences NaN, and refuses half a rate', () => {
    const [wav] = [readWav(writeWav(Float32Array.of(2, -2, Number.NaN), RATE))];
    expect([...wav.channels[0]!].map((x) => Math.round(x))).toEqual([1, -1, 0]);
    expect(() => writeWav(new Float32Array(1), 44_100.5)).toThrow(/whole number of Hz, got 44100.5/);
  });
  it('is read by an independent decoder', async () => {
    const samples = wave(1000);
    const context = new OfflineAudioContext(1, 1000, RATE);
    const decoded = await context.decodeAudioData(writeWav(samples, RATE).buffer);
    expect(decoded.length).toBe(1000);
    decoded.getChannelData(0).forEach((x, i) => expect(x).toBeCloseTo(samples[i]!, 3));
  });
});

const soxMissing = spawnSync('sox', ['--version']).status !== 0;
describe.skipIf(soxMissing)('files that sox has written', () => {
  it.each([
    ['-b', '8', '-e', 'unsigned-integer'],
    ['-b', '16'],
    ['-b', '24'],
    ['-b', '32'],
    ['-b', '32', '-e', 'floating-point'],
    ['-b', '64', '-e', 'floating-point'],
    ['-b', '24', '-c', '2'],
    ['-b', '16', '-r', '8000'],
    ['-b', '16', '-r', '192000'],
  ])('%s %s %s %s are read', (...format) => {
    const folder = mkdtempSync(join(tmpdir(), 'twobar-wav-'));
    const source = join(folder, 'in.wav');
    const target = join(folder, 'out.wav');
    writeFileSync(source, writeWav(wave(RATE / 10), RATE));
    execFileSync('sox', ['-D', source, ...format, target]);
    const wav = readWav(readFileSync(target));
    const loudest = louderChannel(wav).reduce((max, x) => Math.max(max, Math.abs(x)), 0);
    expect(wav.channels[0]!.length / wav.sampleRate).toBeCloseTo(0.1, 3);
    expect(loudest).toBeGreaterThan(0.48);
    expect(loudest).toBeLessThan(0.52);
  });
});
