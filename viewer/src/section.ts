// The piece cut by a plane: what lies before it is taken away, what it meets is filled.

import { Group, LineBasicMaterial, LineSegments, Material, Matrix4, Mesh, Plane, Vector3 } from "three";
import { cutLook } from "./looks";
import type { Model } from "./model";
import { cut } from "./solidity";

export type Axis = "x" | "y" | "z";

const NUDGE = 0.0137; // mm, so that the plane does not lie in a face that stands on a round number
const FAR = 1e7;

/** One plane square to an axis of the piece; `share` 0 takes nothing away. */
export class Section {
  readonly plane = new Plane(new Vector3(-1, 0, 0), FAR);
  // what materials are clipped by: nothing while nothing is cut, which every pixel would pay for
  readonly planes: Plane[] = [];
  private readonly caps = new Group();
  private readonly ink = new LineBasicMaterial({ color: "#2a1f14" });
  private readonly looks = new Map<Material, Material>();
  axis: Axis = "x";
  share = 0;

  constructor(parent: { add: (thing: Group) => void }) {
    parent.add(this.caps);
  }

  /** Cut `model` where it stands now. */
  apply(model: Model): void {
    this.clear();
    const bounds = model.record.bounds;
    if (!this.share || !bounds) {
      this.plane.constant = FAR;
      this.planes.length = 0;
      return;
    }
    this.planes[0] = this.plane;
    this.place(bounds);
    for (const copy of model.copies.values()) {
      if (!copy.node.visible) continue;
      const back = new Matrix4().copy(copy.node.matrix).invert();
      const face = cut(copy.body, this.plane.clone().applyMatrix4(back));
      if (!face) continue;
      const filled = new Mesh(face.cap, this.lookOf(copy.mesh.material));
      filled.userData["copy"] = copy.record.id;
      filled.receiveShadow = true;
      const holder = new Group();
      holder.matrixAutoUpdate = false;
      holder.matrix.copy(copy.node.matrix);
      holder.add(filled, new LineSegments(face.outline, this.ink));
      this.caps.add(holder);
    }
  }

  private place([low, high]: [number[], number[]]): void {
    const at = { x: 0, y: 1, z: 2 }[this.axis];
    const from = this.axis === "y" ? low[at]! : high[at]!;
    const to = this.axis === "y" ? high[at]! : low[at]!;
    const where = from + (to - from) * this.share + NUDGE;
    const keeps = this.axis === "y" ? 1 : -1;
    this.plane.normal.set(0, 0, 0).setComponent(at, keeps);
    this.plane.constant = -keeps * where;
  }

  private lookOf(material: Material): Material {
    const known = this.looks.get(material) ?? cutLook(material);
    this.looks.set(material, known);
    return known;
  }

  private clear(): void {
    for (const holder of this.caps.children)
      for (const thing of holder.children) (thing as Mesh).geometry.dispose();
    this.caps.clear();
  }

  /** Forget the looks of a piece that is gone. */
  forget(): void {
    this.clear();
    for (const material of this.looks.values()) material.dispose();
    this.looks.clear();
  }
}
