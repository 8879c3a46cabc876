import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import react from '@vitejs/plugin-react'
import sharp from 'sharp'
import { defineConfig, type Plugin } from 'vite'
import { VitePWA } from 'vite-plugin-pwa'

const here = (path: string): string => fileURLToPath(new URL(`../${path}`, import.meta.url))

const iconSizes = [180, 192, 512] as const

/**
 * What is made at build: the icon as PNG in the sizes that phones ask for, drawn from the one SVG, and the desk's own script
 * that sets the look before the first paint.
 */
function madeFiles(): Plugin {
  return {
    name: 'made-files',
    apply: 'build',
    async generateBundle() {
      const svg = readFileSync(here('src/field/public/icon.svg'))
      for (const size of iconSizes) {
        const source = await sharp(svg, { density: 96 }).resize(size, size).png().toBuffer()
        this.emitFile({ type: 'asset', fileName: `icon-${size}.png`, source })
      }
      const source = readFileSync(here('src/desk/public/look.js'))
      this.emitFile({ type: 'asset', fileName: 'look.js', source })
    },
  }
}

/** The field page: an app that a phone keeps and opens with no network. Served under /field/. */
export default defineConfig({
  root: here('src/field'),
  base: '/field/',
  plugins: [
    react(),
    madeFiles(),
    VitePWA({
      strategies: 'generateSW',
      injectRegister: false,
      registerType: 'prompt',
      manifest: {
        id: '/field/',
        name: 'Lynchet field',
        short_name: 'Lynchet',
        description: 'Records a walk and its findspots on this device.',
        lang: 'en-GB',
        start_url: '/field/',
        scope: '/field/',
        display: 'standalone',
        orientation: 'any',
        background_color: '#e9e4d6',
        theme_color: '#2f281f',
        icons: [
          { src: 'icon-192.png', sizes: '192x192', type: 'image/png' },
          { src: 'icon-512.png', sizes: '512x512', type: 'image/png', purpose: 'any' },
          { src: 'icon-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
        ],
      },
      workbox: {
        globPatterns: ['**/*.{html,js,css,woff2,svg,png}'],
        navigateFallback: '/field/index.html',
        cleanupOutdatedCaches: true,
      },
    }),
  ],
  build: { outDir: here('dist/field'), emptyOutDir: true, target: 'es2023' },
})
