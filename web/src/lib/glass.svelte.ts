// A glass over something drawn: how large it is shown and where it lies, under fingers (see hands.ts), buttons and keys.

interface Under {
  /** Times larger than the whole, at the most. */
  most: number;
  wide: () => number;
  tall: () => number;
  /** Where it may lie when it is to lie somewhere, so many times larger. */
  kept: (k: number, x: number, y: number) => [number, number];
  /** How much larger one key makes it, and how much of the field an arrow moves it. */
  by: number;
  step: number;
}

export class Glass {
  k = $state(1);
  x = $state(0);
  y = $state(0);
  #under: Under;

  constructor(under: Under) {
    this.#under = under;
  }

  #put(k: number, x: number, y: number) {
    this.k = k;
    [this.x, this.y] = this.#under.kept(k, x, y);
  }
  zoom = (by: number, px = this.#under.wide() / 2, py = this.#under.tall() / 2) => {
    const to = Math.max(1, Math.min(this.#under.most, this.k * by));
    if (to === 1) return this.whole();
    this.#put(to, px - ((px - this.x) * to) / this.k, py - ((py - this.y) * to) / this.k);
  };
  pan = (dx: number, dy: number) => {
    if (this.k > 1) this.#put(this.k, this.x + dx, this.y + dy);
  };
  whole = () => {
    this.k = 1;
    this.x = this.y = 0;
  };

  /** A key pressed on it; more are what else keys do there. */
  key = (e: KeyboardEvent, more: Record<string, (() => void) | undefined> = {}) => {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    const { by, step, wide, tall } = this.#under;
    const larger = () => this.zoom(by), smaller = () => this.zoom(1 / by);
    const does: Record<string, (() => void) | undefined> = { "+": larger, "=": larger, "-": smaller, "_": smaller, "0": this.whole, ...more };
    if (this.k > 1) {
      // At rest the arrows are left to the page.
      does.ArrowRight = () => this.pan(-step * wide(), 0);
      does.ArrowLeft = () => this.pan(step * wide(), 0);
      does.ArrowDown = () => this.pan(0, -step * tall());
      does.ArrowUp = () => this.pan(0, step * tall());
    }
    const act = does[e.key];
    if (!act) return;
    e.preventDefault();
    act();
  };
}
