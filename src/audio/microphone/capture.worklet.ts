/**
 * The capture worklet: copies the microphone's blocks and the frame counter, nothing else. Blocks go through a
 * port straight to the capture worker, so a busy page never delays or drops them.
 */

/** Four quanta of 128: 11 ms at 48 kHz, a third of what a live tick may take, and 94 messages a second. */
const QUANTA = 4;

class CaptureProcessor extends AudioWorkletProcessor {
  port2worker: MessagePort | null = null;
  frame = 0;
  held: Float32Array<ArrayBuffer>[][] = [];

  constructor() {
    super();
    this.port.onmessage = ({ data }: MessageEvent<MessagePort>) => {
      this.port2worker = data;
    };
  }

  process(inputs: Float32Array[][]): boolean {
    const block = (inputs[0] ?? []).map((channel) => channel.slice() as Float32Array<ArrayBuffer>);
    const first = this.held[0];
    // A change of channel count or a jump of the counter ends a chunk.
    if (first && (first.length !== block.length || currentFrame !== this.frame + 128 * this.held.length))
      this.send();
    if (this.held.length === 0) this.frame = currentFrame;
    this.held.push(block);
    if (this.held.length === QUANTA) this.send();
    return true;
  }

  send(): void {
    const channels = this.held[0]!.map((_, c) => {
      const joined = new Float32Array(128 * this.held.length);
      this.held.forEach((block, i) => joined.set(block[c]!, 128 * i));
      return joined;
    });
    this.port2worker?.postMessage(
      { frame: this.frame, channels, length: 128 * this.held.length },
      channels.map(({ buffer }) => buffer),
    );
    this.held = [];
  }
}

registerProcessor('twobar-capture', CaptureProcessor);
