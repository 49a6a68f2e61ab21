import { defineConfig, type Plugin } from "vite";
import { VitePWA } from "vite-plugin-pwa";
import { buildNumber } from "./build_number";
import { notices } from "./notices";

/** MicroPython's module names its WebAssembly beside itself; the phone gets it packed (packed.py), so not twice. */
const onlyPacked = (): Plugin => ({
  name: "only-packed",
  generateBundle(_options, bundle) {
    for (const file in bundle) if (file.endsWith(".wasm")) delete bundle[file];
  },
});

/**
 * What no phone asks of Emscripten's loader: advice on names that it did not export and on browsers of 2021 that were
 * too old, files that are fetched as they are read. What no longer fits a later one only leaves the download larger.
 */
const UNASKED = [
  { of: /(?<=\[)("\w+",)+"\w+"(?=\]\.forEach\()/g, by: "" },
  { of: /!function\(\)\{function humanReadableVersionToPacked.*?\}\(\)(?=;var Module=)/, by: "0" },
  { of: /makeInvalidEarlyAccess\("\w+"\)/g, by: "0" },
  { of: /,forceLoadFile\(.*(?=\},SYSCALLS=\{)/, by: "" },
  { of: /FS\.createPreloadedFile=.*?FS\.preloadFile=FS_preloadFile,/, by: "" },
];
const onlyAsked = (): Plugin => ({
  name: "only-asked",
  transform(code, id) {
    if (!id.endsWith("/micropython.mjs")) return null;
    return { code: UNASKED.reduce((text, { of, by }) => text.replace(of, by), code), map: null };
  },
});

export default defineConfig({
  // A phone is no Node: what MicroPython's loader would do there is left out.
  define: {
    __BUILD__: JSON.stringify(buildNumber(import.meta.dirname)),
    "globalThis.process": "undefined",
    "globalThis.window": "undefined",
    "typeof process": '"undefined"',
    process: "undefined",
  },
  build: {
    outDir: "../backend/tailslate/static",
    emptyOutDir: true,
    target: "es2022",
    modulePreload: { polyfill: false }, // every browser that runs the rest preloads modules
    assetsInlineLimit: 0, // the content security policy allows no data: fonts
  },
  worker: {
    format: "es",
    plugins: () => [onlyPacked(), onlyAsked()],
    rolldownOptions: {
      treeshake: {
        manualPureFunctions: [
          "assert",
          "wasmTable.get", // within an assertion at every call from Python to C: a fourth of all time
          "consumedModuleProp",
          "unexportedRuntimeSymbol",
          "missingLibrarySymbol",
          "warnOnce",
          "checkStackCookie",
          "legacyModuleProp",
        ],
      },
    },
  },
  server: { fs: { allow: [".."] }, proxy: { "/api": "http://127.0.0.1:8000" } },
  plugins: [
    notices(),
    VitePWA({
      strategies: "injectManifest",
      srcDir: "service_worker",
      filename: "sw.ts",
      registerType: "prompt",
      injectRegister: false,
      includeManifestIcons: false,
      injectManifest: {
        globPatterns: ["**/*.{js,css,html,packed,svg,png,webmanifest,woff2,txt}"],
        // Icons are for installing and notices for reading at leisure: both have the network then. Letters beyond
        // those of the screens come when a name first needs them (face.py).
        globIgnores: ["icon-*.png", "apple-touch-icon.png", "notices.txt", "**/archivo_*_more*"],
        maximumFileSizeToCacheInBytes: 4 << 20,
      },
      manifest: {
        id: "/",
        name: "Tailslate",
        short_name: "Tailslate",
        description: "A crew's shared prep checklist for one shooting day. Works without signal.",
        lang: "en",
        start_url: "/",
        scope: "/",
        display: "standalone",
        background_color: "#0d0c0a",
        theme_color: "#0d0c0a",
        icons: [
          { src: "/icon.svg", sizes: "any", type: "image/svg+xml" },
          { src: "/icon-192.png", sizes: "192x192", type: "image/png" },
          { src: "/icon-512.png", sizes: "512x512", type: "image/png" },
          { src: "/icon-maskable-512.png", sizes: "512x512", type: "image/png", purpose: "maskable" },
        ],
      },
    }),
  ],
});
