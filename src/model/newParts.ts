/** Extra parts as they begin; every figure can be changed afterwards. Usual sizes, common practice, no source. */
import type { LayerPart, ShellOutline, StencilPart } from './extras';

export const drawnLayer = (outline: ShellOutline): Omit<LayerPart, 'id'> => ({
  kind: 'layer',
  name: 'Layer',
  thickness: null,
  faces: [],
  side: 'outside',
  margin: 0,
  outline,
});

export const newStencil = (outline: ShellOutline): Omit<StencilPart, 'id'> => ({
  kind: 'stencil',
  name: 'Stencil',
  thickness: null,
  outline,
  side: 'outside',
  way: 'mask',
  border: 20,
});
