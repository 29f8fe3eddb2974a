// Fingers, mouse and wheel on something that is moved and made larger under them.

export interface Hands {
  /** Whether one finger and the wheel move it; two fingers always do. */
  taken: () => boolean;
  /** Whether the wheel alone makes it larger, where that is not as one finger. */
  wheel?: () => boolean;
  zoom: (by: number, x: number, y: number) => void;
  pan: (dx: number, dy: number) => void;
  tap: (x: number, y: number) => void;
}

const still = 8; // points that a finger may slip in a tap

/** Puts it into the hands; the result takes it out again. */
export function hands(node: HTMLElement, to: Hands): () => void {
  const over = new AbortController();
  const hears = { signal: over.signal };
  const place = (e: { clientX: number; clientY: number }) => {
    const box = node.getBoundingClientRect();
    return { x: e.clientX - box.left, y: e.clientY - box.top };
  };

  // Touches are heard as touches: what is not taken is left to the page to
  // scroll with, which can be decided only here.
  let last: { x: number; y: number; apart: number; fingers: number } | null = null;
  let slipped = 0;
  const middle = (touches: TouchList) => {
    const all = [...touches].map(place);
    const x = all.reduce((sum, p) => sum + p.x, 0) / all.length;
    const y = all.reduce((sum, p) => sum + p.y, 0) / all.length;
    const [a, b] = all;
    return { x, y, apart: a && b ? Math.hypot(a.x - b.x, a.y - b.y) : 0, fingers: all.length };
  };
  node.addEventListener("touchstart", (e) => {
    if (e.touches.length === 1) slipped = 0;
    else slipped = Infinity;
    last = middle(e.touches);
    if (e.touches.length > 1) e.preventDefault();
  }, { ...hears, passive: false });
  node.addEventListener("touchmove", (e) => {
    const now = middle(e.touches);
    if (last && last.fingers === now.fingers) {
      const dx = now.x - last.x, dy = now.y - last.y;
      slipped += Math.hypot(dx, dy);
      if (now.fingers > 1 || to.taken()) {
        if (e.cancelable) e.preventDefault();
        to.pan(dx, dy);
        if (now.fingers > 1 && last.apart > 0 && now.apart > 0) to.zoom(now.apart / last.apart, now.x, now.y);
      }
    }
    last = now;
  }, { ...hears, passive: false });
  node.addEventListener("touchend", (e) => {
    if (e.touches.length > 0) {
      last = middle(e.touches);
      return;
    }
    const lifted = e.changedTouches[0];
    if (lifted && slipped < still) {
      const at = place(lifted);
      to.tap(at.x, at.y);
    }
    last = null;
  }, hears);
  node.addEventListener("touchcancel", () => (last = null), hears);

  let mouse: { x: number; y: number } | null = null;
  node.addEventListener("pointerdown", (e) => {
    if (e.pointerType === "touch" || e.button !== 0) return;
    mouse = place(e);
    slipped = 0;
    node.setPointerCapture(e.pointerId);
  }, hears);
  node.addEventListener("pointermove", (e) => {
    if (e.pointerType === "touch" || !mouse) return;
    const now = place(e);
    slipped += Math.hypot(now.x - mouse.x, now.y - mouse.y);
    if (slipped >= still) to.pan(now.x - mouse.x, now.y - mouse.y);
    mouse = now;
  }, hears);
  node.addEventListener("pointerup", (e) => {
    if (e.pointerType === "touch" || !mouse) return;
    const at = place(e);
    mouse = null;
    if (slipped < still) to.tap(at.x, at.y);
  }, hears);
  node.addEventListener("pointercancel", () => (mouse = null), hears);

  node.addEventListener("wheel", (e) => {
    const pinched = e.ctrlKey || e.metaKey; // a touchpad's pinch arrives so
    if (!pinched && !(to.wheel ?? to.taken)()) return;
    e.preventDefault();
    const lines = e.deltaMode === WheelEvent.DOM_DELTA_LINE ? 30 : 1;
    const at = place(e);
    to.zoom(Math.exp(-e.deltaY * lines * (pinched ? 0.01 : 0.002)), at.x, at.y);
  }, { ...hears, passive: false });

  return () => over.abort();
}
