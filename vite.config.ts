import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

/**
 * The app build: `vite build` writes `dist/`, which any static server (or a plain folder share) can host, since every
 * address in it is relative. The drawing canvas is loaded when the first pattern opens, the 3D library when a shell is
 * first shown, PDF writing when the first pages are printed (inside the worker), so the start screen stays light.
 */
export default defineConfig({
  base: './',
  plugins: [react()],
  worker: { format: 'es' },
  // It looks for its WebAssembly beside itself.
  optimizeDeps: { exclude: ['manifold-3d'] },
  build: {
    target: 'es2022',
    sourcemap: true,
    // The PDF writer is about 900 kB before compression and lives in its own lazy chunk of the worker.
    chunkSizeWarningLimit: 1000,
    rolldownOptions: {
      output: {
        codeSplitting: {
          groups: [
            { name: 'react', test: /node_modules[\\/](react|react-dom|scheduler|zustand)[\\/]/ },
            { name: 'paper', test: /node_modules[\\/]paper[\\/]/ },
            { name: 'three', test: /node_modules[\\/]three[\\/]/ },
          ],
        },
      },
    },
  },
});
