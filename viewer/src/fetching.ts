// The meshes of the live view: fetched once by name, and kept while the piece has them.

import { BufferAttribute, BufferGeometry } from "three";
import type { PieceRecord } from "./record";
import { type Body, body } from "./solidity";

const NUMBER = 4; // bytes

/** One packed mesh: the number of points and of corners, points, normals, corners. */
function unpacked(buffer: ArrayBuffer, start: number): BufferGeometry {
  const [points, corners] = new Uint32Array(buffer, start, 2) as unknown as [number, number];
  const at = start + 2 * NUMBER;
  const after = at + 3 * NUMBER * points;
  const made = new BufferGeometry();
  made.setAttribute("position", new BufferAttribute(new Float32Array(buffer, at, 3 * points), 3));
  made.setAttribute("normal", new BufferAttribute(new Float32Array(buffer, after, 3 * points), 3));
  made.setIndex(new BufferAttribute(new Uint32Array(buffer, after + 3 * NUMBER * points, corners), 1));
  return made;
}

export class Meshes {
  private known = new Map<string, Body>();

  /** The body of each part by label; what is not known yet is fetched in one go. */
  async of(record: PieceRecord): Promise<Map<string, Body>> {
    const wanted = new Set(record.parts.flatMap((part) => part.mesh ?? []));
    const bodies = new Map([...wanted].flatMap((name) => (this.known.has(name) ? [[name, this.known.get(name)!] as const] : [])));
    const missing = [...wanted].filter((name) => !bodies.has(name));
    if (missing.length) for (const [name, made] of await fetched(missing)) bodies.set(name, made);
    this.known = bodies;
    return new Map(record.parts.flatMap((part) => (part.mesh && bodies.has(part.mesh) ? [[part.label, bodies.get(part.mesh)!] as const] : [])));
  }
}

async function fetched(names: string[]): Promise<[string, Body][]> {
  const answer = await fetch(`meshes?names=${names.join(",")}`);
  if (!answer.ok) throw new Error(`the meshes cannot be had: ${answer.status}`);
  const buffer = await answer.arrayBuffer();
  const found: [string, Body][] = [];
  let at = 0;
  for (const name of names) {
    const length = new DataView(buffer).getUint32(at, true);
    // an empty one is gone already: a newer picture is on its way
    if (length) found.push([name, body(unpacked(buffer, at + NUMBER))]);
    at += NUMBER + length;
  }
  return found;
}
