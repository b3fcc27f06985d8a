// Materials made by code: one for every copy, all of them one shader.

import { Color, Material, MeshLambertMaterial, Matrix4, Plane, Vector3 } from "three";
import type { WebGLProgramParametersWithUniforms } from "three";
import figure from "./figure.glsl";
import type { CopyRecord, PartRecord } from "./record";

const SORTS = { wood: 0, plies: 1, board: 2, metal: 3 } as const;
const PLY = 1.5; // thickness of a ply in mm: from memory

/** The pixel's size at the piece (mm), shared by every material. */
export const pixel = { value: 1 };

/** A number from 0 to 1 that is always the same for the same name. */
export function seed(name: string): number {
  let mixed = 2166136261;
  for (const sign of name) mixed = Math.imul(mixed ^ sign.codePointAt(0)!, 16777619);
  return ((mixed ^ (mixed >>> 15)) >>> 0) / 2 ** 32;
}

/** From part axes to those of the figure: along the grain, across it, through the board. */
function figureOf(copy: CopyRecord, part: PartRecord): Matrix4 {
  const rows = copy.figure;
  const matrix = new Matrix4();
  if (rows) matrix.set(...(rows as [number, number, number, number, number, number, number, number, number, number, number, number]), 0, 0, 0, 1);
  else if (part.grain === "width") matrix.set(0, 1, 0, 0, 1, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1);
  return matrix;
}

function plies(thickness: number): number {
  return Math.max(3, 2 * Math.floor(thickness / PLY / 2) + 1);
}

/** What a copy looks like; those of one run of matched grain are of one board. */
export function look(copy: CopyRecord, part: PartRecord, clipping: Plane[]): MeshLambertMaterial {
  const { sort, face, core, figured, quartered } = part.surface;
  const thick = part.cut?.[2] ?? part.finished?.[2] ?? 1;
  const uniforms = {
    uSort: { value: SORTS[sort] },
    uCore: { value: new Color(core) },
    uFigured: { value: figured },
    uQuartered: { value: quartered },
    uBoard: { value: seed(copy.run ?? copy.id) },
    uThick: { value: thick },
    uPlies: { value: plies(thick / Math.max(part.layers, 1)) * Math.max(part.layers, 1) },
    uFigure: { value: figureOf(copy, part) },
    uPixel: pixel,
  };
  const made = new MeshLambertMaterial({ color: face, clippingPlanes: clipping, clipShadows: true });
  made.polygonOffset = true;
  made.polygonOffsetFactor = 1;
  made.polygonOffsetUnits = 1;
  made.onBeforeCompile = (shader) => patched(shader, uniforms);
  made.customProgramCacheKey = () => "figure";
  return made;
}

function patched(shader: WebGLProgramParametersWithUniforms, uniforms: Record<string, { value: unknown }>): void {
  Object.assign(shader.uniforms, uniforms);
  const varyings = "varying vec3 vAt;\nvarying vec3 vFigure;\nvarying vec3 vTurned;\n";
  shader.vertexShader =
    `uniform mat4 uFigure;\n${varyings}` +
    shader.vertexShader.replace(
      "#include <begin_vertex>",
      "#include <begin_vertex>\nvAt = position;\nvFigure = (uFigure * vec4(position, 1.0)).xyz;\nvTurned = normal;",
    );
  const declared =
    "uniform int uSort;\nuniform vec3 uCore;\nuniform bool uFigured;\nuniform bool uQuartered;\n" +
    "uniform float uBoard;\nuniform float uThick;\nuniform float uPlies;\nuniform float uPixel;\n";
  shader.fragmentShader =
    `${declared}${varyings}${figure}` +
    shader.fragmentShader.replace(
      "#include <color_fragment>",
      "#include <color_fragment>\ndiffuseColor.rgb = surface(vAt, vFigure, vTurned, diffuseColor.rgb);",
    );
}

/** The same look for the face of a cut: not clipped, seen from both sides. */
export function cutLook(material: Material): Material {
  const made = material.clone() as MeshLambertMaterial;
  made.onBeforeCompile = material.onBeforeCompile;
  made.customProgramCacheKey = material.customProgramCacheKey;
  made.clippingPlanes = [];
  return made;
}

/** The direction of light that the page's drawings keep to as well: from the upper left front. */
export const LIGHT = new Vector3(-0.45, -0.75, 1.0);
