// The record that a page carries: lengths in mm, angles in degrees, everything in piece axes
// (x to the right, y to the back, z up) but for a part's own faces and holes.

export type Vec = [number, number, number];
export type Units = "mm" | "in";
export type Severity = "error" | "warning" | "note";

export interface Face {
  name: string;
  normal: Vec;
  offset: number;
}

export interface Surface {
  sort: "wood" | "plies" | "board" | "metal";
  face: string;
  core: string;
  figured: boolean;
  quartered: boolean;
}

export interface PartRecord {
  label: string;
  name: string;
  kind: "lumber" | "sheet" | "edging" | "loose" | "hardware";
  material: string | null;
  quantity: number;
  finished: Vec | null;
  cut: Vec | null;
  grain: "length" | "width" | "none" | null;
  layers: number;
  staves: number;
  mass: number | null;
  drawing: string | null;
  // what its mesh is called by the live view; a page that carries its meshes has none
  mesh?: string | null;
  faces: Face[];
  surface: Surface;
}

export interface CopyRecord {
  id: string;
  label: string;
  group: string[];
  mover: string | null;
  placement: number[];
  apart: Vec;
  // where matched grain runs on: the run's name; part axes to figure axes, three rows of four
  run: string | null;
  figure: number[] | null;
}

export interface MoverRecord {
  id: string;
  kind: "slides" | "turns";
  axis: Vec;
  origin: Vec;
  limit: number;
}

export interface JointRecord {
  id: string;
  kind: string;
  parts: string[];
  loose: string[];
}

export interface OpeningRecord {
  id: string;
  kind: string;
  corner: Vec;
  width: number;
  height: number;
  depth: number;
}

export interface StepRecord {
  order: number;
  title: string;
  does: string;
  note: string;
  copies: string[];
  directions: (Vec | null)[];
}

export interface FindingRecord {
  code: string;
  severity: Severity;
  subject: string;
  message: string;
  copies: string[];
  at: Vec | null;
  facts: string;
}

export interface PieceRecord {
  piece: string;
  units: Units;
  version: string;
  bounds: [Vec, Vec] | null;
  materials: Record<string, string>;
  parts: PartRecord[];
  copies: CopyRecord[];
  movers: MoverRecord[];
  joints: JointRecord[];
  openings: OpeningRecord[];
  steps: StepRecord[];
  findings: FindingRecord[];
}
