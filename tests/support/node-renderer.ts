import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import * as nativeApi from 'node-web-audio-api';
import { createRenderer } from '../../src/audio/render/index.ts';
import type { Renderer } from '../../src/audio/render/index.ts';

const ASSETS = resolve(import.meta.dirname, '../../src/audio/assets');

/** The app's renderer over node-web-audio-api. */
export const nodeRenderer = (): Renderer =>
  createRenderer({
    loadAsset: async (name) => Uint8Array.from(await readFile(`${ASSETS}/${name}.mp3`)).buffer,
    // The package's types differ from the DOM's in what a test never touches.
    offlineContext: (length, rate) =>
      new nativeApi.OfflineAudioContext(1, length, rate) as unknown as OfflineAudioContext,
    nativeApi,
  });
