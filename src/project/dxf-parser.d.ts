/**
 * The part of dxf-parser 1.1.2 that we use. Its own types pull in all of Node's, which would open this layer's fence.
 */
declare module 'dxf-parser/dist/dxf-parser.js' {
  interface DxfPoint {
    readonly x?: number;
    readonly y?: number;
    readonly z?: number;
    readonly bulge?: number;
  }
  export interface DxfEntity {
    readonly type: string;
    readonly layer?: string;
    readonly vertices?: readonly DxfPoint[];
    readonly position?: DxfPoint;
    readonly shape?: boolean;
    readonly elevation?: number;
    readonly extrusionDirection?: DxfPoint;
    readonly extrusionDirectionX?: number;
    readonly extrusionDirectionY?: number;
    readonly extrusionDirectionZ?: number;
    readonly is3dPolyline?: boolean;
    readonly is3dPolygonMesh?: boolean;
    readonly isPolyfaceMesh?: boolean;
  }
  export default class DxfParser {
    parseSync(source: string): { header?: Record<string, unknown>; entities?: readonly DxfEntity[] } | null;
  }
}
