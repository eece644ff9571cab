/** Owns one track while it is played: its element, its way to the loudspeaker, fading in and out. */
export interface Deck {
  readonly file: string;
  /** Seconds until its end; null while that is not known. */
  readonly leftS: () => number | null;
  /** How long it is; null while that is not known. */
  readonly lengthS: () => number | null;
  readonly fade: (to: 0 | 1, ms: number) => void;
  readonly pause: () => void;
  readonly play: () => void;
  readonly close: () => void;
}

/** @param failed once, when the browser cannot play it @param ended when it has come to its end */
export function openDeck(ctx: AudioContext, out: AudioNode, file: string, failed: () => void, ended: () => void): Deck {
  const element = new Audio(`/music/${encodeURIComponent(file)}`);
  element.preload = 'auto';
  const gain = ctx.createGain();
  gain.gain.value = 0;
  const source = ctx.createMediaElementSource(element);
  source.connect(gain).connect(out);
  let open = true;
  let level = 0;
  const once = (run: () => void) => () => {
    if (open) run();
  };
  element.addEventListener('error', once(failed), { once: true });
  element.addEventListener('ended', once(ended), { once: true });
  const play = () => {
    element.play().catch((error: unknown) => {
      // Refused because nobody has touched the page yet, or paused meanwhile: the file is not to blame.
      if (open && error instanceof DOMException && error.name === 'NotSupportedError') failed();
    });
  };
  return {
    file,
    leftS: () => (Number.isFinite(element.duration) ? element.duration - element.currentTime : null),
    lengthS: () => (Number.isFinite(element.duration) ? element.duration : null),
    fade: (to, ms) => {
      if (level === to) return;
      level = to;
      const now = ctx.currentTime;
      const { value } = gain.gain;
      gain.gain.cancelScheduledValues(now);
      gain.gain.setValueAtTime(value, now);
      gain.gain.linearRampToValueAtTime(to, now + ms / 1_000);
    },
    pause: () => element.pause(),
    play,
    close: () => {
      open = false;
      element.pause();
      element.removeAttribute('src');
      element.load();
      source.disconnect();
      gain.disconnect();
    },
  };
}
