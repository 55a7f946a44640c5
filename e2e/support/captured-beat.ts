// What a page's audio graph really produces: every onset, to the sample, taken on the audio thread.
import type { BrowserContext, Page } from "playwright-core";

interface Captured {
  readonly sampleRateHz: number;
  /** Frames of the audio clock at which sound began after at least 20 ms of exact silence. */
  readonly onsets: readonly number[];
}

/**
 * Before the page's own scripts: whatever is connected to the loudspeaker also goes to a worklet that notes onsets. The
 * context must bypass the content policy, for the worklet's code comes from the test.
 */
export async function captureBeat(context: BrowserContext): Promise<void> {
  await context.addInitScript(() => {
    const code = `
      registerProcessor("onsets", class extends AudioWorkletProcessor {
        quiet = 1e9;
        process([input]) {
          const channel = input[0];
          const found = [];
          for (let i = 0; i < 128; i += 1) {
            const loud = channel !== undefined && channel[i] !== 0;
            if (loud && this.quiet > 0.02 * sampleRate) found.push(currentFrame + i);
            this.quiet = loud ? 0 : this.quiet + 1;
          }
          if (found.length > 0) this.port.postMessage(found);
          return true;
        }
      });`;
    const captured = { sampleRateHz: 0, onsets: [] as number[] };
    Object.assign(globalThis, { capturedBeat: captured });
    const taps = new WeakMap<BaseAudioContext, Promise<AudioWorkletNode>>();
    // oxlint-disable-next-line typescript/unbound-method -- called with the node as its this
    const connect = AudioNode.prototype.connect as (this: AudioNode, to: AudioNode) => AudioNode;
    AudioNode.prototype.connect = function tapped(this: AudioNode, to: AudioNode) {
      if (to instanceof AudioDestinationNode) {
        const audio = this.context as AudioContext;
        captured.sampleRateHz = audio.sampleRate;
        let tap = taps.get(audio);
        if (tap === undefined) {
          const url = URL.createObjectURL(new Blob([code], { type: "text/javascript" }));
          tap = audio.audioWorklet.addModule(url).then(() => {
            const node = new AudioWorkletNode(audio, "onsets");
            node.port.onmessage = (event) => captured.onsets.push(...(event.data as number[]));
            // Pulled only when it leads somewhere; it puts out silence.
            connect.call(node, audio.destination);
            return node;
          });
          taps.set(audio, tap);
        }
        void tap.then((node) => connect.call(this, node));
      }
      return connect.call(this, to);
    } as typeof AudioNode.prototype.connect;
  });
}

export function readCaptured(page: Page): Promise<Captured> {
  return page.evaluate(() => {
    const { capturedBeat } = globalThis as unknown as { capturedBeat: Captured };
    return { sampleRateHz: capturedBeat.sampleRateHz, onsets: [...capturedBeat.onsets] };
  });
}
