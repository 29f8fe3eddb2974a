// Keeps the screen lit while something is read with both hands full.

/** Keeps the screen lit until the result is called; where it cannot, nothing happens. */
export function awake(): () => void {
  let held: WakeLockSentinel | null = null;
  let over = false;
  const hold = async () => {
    if (over || document.hidden || !("wakeLock" in navigator)) return;
    try {
      const lock = await navigator.wakeLock.request("screen");
      if (over) void lock.release();
      else held = lock;
    } catch {
      // Refused, as on a battery nearly empty: the screen goes out as it always does.
    }
  };
  // Going out of sight gives it up; coming back takes it again.
  document.addEventListener("visibilitychange", hold);
  void hold();
  return () => {
    over = true;
    document.removeEventListener("visibilitychange", hold);
    held?.release().catch(() => {});
  };
}
