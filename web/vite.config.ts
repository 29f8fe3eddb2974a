import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vite";

const thole = process.env.THOLE ?? "http://127.0.0.1:8080";

// The page is built into the Go package that embeds it. The same source gives
// the same bytes: names carry a hash of the content and nothing carries a date.
export default defineConfig({
  plugins: [svelte()],
  base: "/",
  build: {
    outDir: "../internal/web/dist",
    emptyOutDir: true,
    target: "es2022",
    assetsInlineLimit: 0, // the page's policy allows no data: fonts or scripts
    modulePreload: { polyfill: false },
    reportCompressedSize: true,
    chunkSizeWarningLimit: 700,
  },
  // For work on the page: `thole serve FOLDER` on its port, `npm run dev` beside it.
  // It takes changes from its own page only, so the page passes for that.
  server: { host: "127.0.0.1", proxy: { "/api": { target: thole, changeOrigin: true, headers: { origin: thole } } } },
});
