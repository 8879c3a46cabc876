import { fileURLToPath } from 'node:url'
import react from '@vitejs/plugin-react'
import { defineConfig, type Plugin } from 'vite'

/** Tells the page of its main font at once, so that no word is first drawn in another. */
function fontAhead(): Plugin {
  return {
    name: 'font-ahead',
    apply: 'build',
    transformIndexHtml: {
      order: 'post',
      handler: (_html, { bundle }) =>
        Object.keys(bundle ?? {})
          .filter((file) => /next-latin-wght-normal.*\.woff2$/.test(file))
          .map((file) => ({
            tag: 'link',
            attrs: { rel: 'preload', href: `/${file}`, as: 'font', type: 'font/woff2', crossorigin: true },
            injectTo: 'head' as const,
          })),
    },
  }
}

const ownCode = /\/src\/(core|contract|ui|desk)\//

/** The desk page: one bundle that the server serves from dist/desk; /looks and the dialogs are fetched when wanted. */
export default defineConfig({
  root: fileURLToPath(new URL('../src/desk', import.meta.url)),
  plugins: [react(), fontAhead()],
  build: {
    outDir: fileURLToPath(new URL('../dist/desk', import.meta.url)),
    emptyOutDir: true,
    target: 'es2023',
    chunkSizeWarningLimit: 1000,
    assetsInlineLimit: 0,
    rolldownOptions: {
      // Our modules do nothing by being read, so a barrel drags in only what is used of it.
      treeshake: {
        moduleSideEffects: (id) => !ownCode.test(id) || /\.css($|\?)/.test(id) || id.endsWith('main.tsx'),
      },
    },
  },
})
