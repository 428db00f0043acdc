import { defineConfig } from "vite";

export default defineConfig({
  build: { outDir: "../dist/page", emptyOutDir: true, target: "es2022", chunkSizeWarningLimit: 800 },
  server: { proxy: { "/api": "http://127.0.0.1:4890" } },
});
