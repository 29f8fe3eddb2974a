// Links that stay within the page when they are simply followed.

/** Goes instead of loading, unless another tab or window was asked for. */
export function stay(e: MouseEvent, go: () => void) {
  if (e.button !== 0 || e.metaKey || e.ctrlKey || e.shiftKey || e.altKey) return;
  e.preventDefault();
  go();
}
