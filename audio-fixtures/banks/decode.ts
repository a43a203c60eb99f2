import { readFileSync } from 'node:fs';
import { OfflineAudioContext } from 'node-web-audio-api';

/** Every recording used is brought to this rate, which is that of the npm packs. */
export const BANK_RATE = 44_100;

/** Mono float PCM at {@link BANK_RATE} of an mp3, WAV or FLAC file. */
export async function decodeFile(path: string): Promise<Float32Array> {
  const file = readFileSync(path);
  const context = new OfflineAudioContext(1, 1, BANK_RATE);
  const buffer = await context.decodeAudioData(
    file.buffer.slice(file.byteOffset, file.byteOffset + file.byteLength) as ArrayBuffer,
  );
  const pcm = new Float32Array(buffer.length);
  for (let c = 0; c < buffer.numberOfChannels; c++) {
    const channel = buffer.getChannelData(c);
    for (let i = 0; i < pcm.length; i++) pcm[i]! += channel[i]! / buffer.numberOfChannels;
  }
  return pcm;
}
