// Paper by day, red on black by night, black on white in the sun.

import { looks } from "./address";

export type Look = (typeof looks)[number];

const key = "thole-look";

class Looks {
  now = $state<Look>((document.documentElement.dataset.look as Look | undefined) ?? "paper");

  set(look: Look) {
    this.now = look;
    document.documentElement.dataset.look = look;
    try {
      localStorage.setItem(key, look);
    } catch {
      // A browser that keeps nothing shows it until the page is left.
    }
    // An address that asked for a look has been overruled.
    const here = new URL(location.href);
    for (const name of looks) here.searchParams.delete(name);
    history.replaceState(null, "", here);
  }
}

export const look = new Looks();
