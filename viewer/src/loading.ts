// The piece out of the page: base64, gzip, JSON and GLB.

import { BufferGeometry, Mesh } from "three";
import { GLTFLoader } from "three/addons/loaders/GLTFLoader.js";
import type { PieceRecord } from "./record";
import { type Body, body } from "./solidity";

const MM_PER_METRE = 1000;

export interface Loaded {
  record: PieceRecord;
  glb: ArrayBuffer;
}

async function inflated(text: string): Promise<ArrayBuffer> {
  const signs = atob(text.trim());
  const packed = new Uint8Array(signs.length);
  for (let at = 0; at < signs.length; at++) packed[at] = signs.charCodeAt(at);
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(stream).arrayBuffer();
}

/** What the page carries in its two blocks of data. */
export async function carried(): Promise<Loaded> {
  const block = (id: string): string => document.getElementById(id)?.textContent ?? "";
  const [text, glb] = await Promise.all([inflated(block("record")), inflated(block("glb"))]);
  return { record: JSON.parse(new TextDecoder().decode(text)) as PieceRecord, glb };
}

/** The mesh of each part in part axes (mm), by label; parts that are alike share one. */
export async function meshes(glb: ArrayBuffer): Promise<Map<string, Body>> {
  const read = await new GLTFLoader().parseAsync(glb, "");
  const found = new Map<string, Body>();
  const bodies = new Map<BufferGeometry, Body>();
  read.scene.traverse((thing) => {
    const label: unknown = thing.userData["label"];
    if (!(thing instanceof Mesh) || typeof label !== "string" || found.has(label)) return;
    const geometry = thing.geometry as BufferGeometry;
    if (!bodies.has(geometry)) bodies.set(geometry, body(geometry.scale(MM_PER_METRE, MM_PER_METRE, MM_PER_METRE)));
    found.set(label, bodies.get(geometry)!);
  });
  return found;
}
