import { readFileSync } from 'node:fs'
import { basename } from 'node:path'
import preact from '@preact/preset-vite'
import type { Plugin } from 'vite'
import { defineConfig } from 'vite'
import { type ManifestOptions, VitePWA } from 'vite-plugin-pwa'
import { isolationHeaders, pagePolicy } from './scripts/csp.mjs'
import { hostFiles } from './scripts/host-files.mjs'
import { shareFields, sharePath } from './src/sources/offline-parts.ts'
import { SPECTRUM_TEXT_TYPES } from './src/sources/spectrum/text-types.ts'

const dark = '#14100e'

const manifest: Partial<ManifestOptions> = {
  id: '/',
  name: 'Glowbook',
  short_name: 'Glowbook',
  description: 'How hot is that glow? Temperature from the colour of glowing metal, offline.',
  lang: 'en',
  start_url: '/',
  scope: '/',
  display: 'standalone',
  background_color: dark,
  theme_color: dark,
  categories: ['utilities', 'photo'],
  icons: [
    { src: '/icons/icon-192.png', sizes: '192x192', type: 'image/png' },
    { src: '/icons/icon-512.png', sizes: '512x512', type: 'image/png' },
    { src: '/icons/maskable-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
    { src: '/icons/glowbook.svg', sizes: 'any', type: 'image/svg+xml' },
  ],
  screenshots: [
    {
      src: '/screenshots/reading.png',
      sizes: '780x1688',
      type: 'image/png',
      form_factor: 'narrow',
      label: 'A reading: the glow, its temperature and how far it can be trusted',
    },
  ],
  share_target: {
    action: sharePath,
    method: 'POST',
    enctype: 'multipart/form-data',
    params: {
      files: [
        { name: shareFields.photo, accept: ['image/*', 'image/x-adobe-dng', '.dng'] },
        { name: shareFields.spectrum, accept: [...SPECTRUM_TEXT_TYPES] },
      ],
    },
  },
}

/** Puts the policy into the built page; the development server needs inline scripts and sockets. */
const policyInPage: Plugin = {
  name: 'content-security-policy',
  apply: 'build',
  // As text: Vite's own way of adding a tag would write every quote as an entity.
  transformIndexHtml: (html) =>
    html.replace(
      '<head>',
      `<head>\n    <meta http-equiv="Content-Security-Policy" content="${pagePolicy}">`,
    ),
}

/** The same policies, and those that a page cannot set itself, for the host that serves the app. */
const headersBeside: Plugin = {
  name: 'headers-for-hosts',
  apply: 'build',
  generateBundle() {
    for (const file of hostFiles()) this.emitFile({ type: 'asset', ...file })
  },
}

/** The licences of what the app carries go with it. */
const licencesBeside: Plugin = {
  name: 'licences',
  apply: 'build',
  generateBundle() {
    const source = readFileSync(new URL('./THIRD-PARTY.md', import.meta.url))
    this.emitFile({ type: 'asset', fileName: 'third-party.txt', source })
  },
}

/** Heavy decoders get folders of their own: the service worker keeps them in the second tier. */
const heavyFolder = (id: string) =>
  /libraw/.test(id) ? 'raw/' : /libheif|\/heif\/heif\.worker/.test(id) ? 'heif/' : ''
const chunkName = ({ facadeModuleId }: { facadeModuleId?: string | null }) =>
  `assets/${heavyFolder(facadeModuleId ?? '')}[name]-[hash].js`
const output = {
  entryFileNames: chunkName,
  chunkFileNames: chunkName,
  assetFileNames: ({ names }: { names: string[] }) =>
    `assets/${heavyFolder(names[0] ?? '')}[name]-[hash][extname]`,
}

/** What every visit loads is one file, whatever else shares parts of it. */
const codeSplitting = { groups: [{ name: 'start', tags: ['$initial' as const] }] }

const pwa = VitePWA({
  strategies: 'injectManifest',
  registerType: 'prompt',
  injectRegister: null,
  srcDir: 'src',
  filename: 'service-worker.ts',
  manifest,
  includeManifestIcons: false, // the system fetches them when it installs the app
  injectManifest: {
    rollupFormat: 'iife',
    globPatterns: ['**/*.{html,js,css,svg,wasm,jpg,jpeg,dng,txt}'],
    maximumFileSizeToCacheInBytes: 8_000_000,
  },
})

/**
 * What a part loaded later shares with its worker lies in a file beside it, not in the worker's own:
 * WebKit 2.50 runs that a second time when a part imports it, and what the worker held is gone.
 */
const entriesAlone: Plugin = {
  name: 'workers-entries-alone',
  options: (given) => ({ ...given, preserveEntrySignatures: 'strict' }),
}

export default defineConfig(({ command }) => ({
  plugins: [preact(), policyInPage, licencesBeside, headersBeside, command === 'build' ? pwa : []],
  server: { headers: isolationHeaders },
  optimizeDeps: { exclude: ['libraw-wasm'] },
  worker: { format: 'es', plugins: () => [entriesAlone], rolldownOptions: { output } },
  css: {
    // Names that a person can read in the inspector, and that a test can name.
    modules: {
      localsConvention: 'camelCaseOnly',
      generateScopedName: (name, file) => `${basename(file, '.module.css')}_${name}`,
    },
  },
  build: {
    target: 'es2022',
    modulePreload: { polyfill: false },
    rolldownOptions: { output: { ...output, codeSplitting }, checks: { bundlerTimings: false } },
  },
}))
