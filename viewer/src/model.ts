// The piece as it stands in the picture: every copy with its mesh, its arrises and its pose.

import {
  Box3,
  BufferGeometry,
  Group,
  LineBasicMaterial,
  LineSegments,
  Matrix4,
  Mesh,
  MeshLambertMaterial,
  Plane,
  Quaternion,
  Vector3,
} from "three";
import { look } from "./looks";
import type { CopyRecord, MoverRecord, PartRecord, PieceRecord, StepRecord, Vec } from "./record";
import type { Body } from "./solidity";

export interface Copy {
  record: CopyRecord;
  part: PartRecord;
  body: Body;
  node: Group;
  mesh: Mesh<BufferGeometry, MeshLambertMaterial>;
  lines: LineSegments<BufferGeometry, LineBasicMaterial>;
  home: Matrix4;
  // all that its look depends on
  seen: string;
}

const OUT_OF_STEP = 0.12; // of the piece's longest side: how far a step lifts what it takes up

/** Everything about how the piece is shown just now. */
export class Model {
  readonly root = new Group();
  readonly copies = new Map<string, Copy>();
  readonly parts = new Map<string, PartRecord>();
  readonly open = new Map<string, number>();
  readonly hidden = new Set<string>();
  only: ReadonlySet<string> | null = null;
  apart = 0;
  step: StepRecord | null = null;
  stepped: ReadonlySet<string> | null = null;

  constructor(
    readonly record: PieceRecord,
    shapes: ReadonlyMap<string, Body>,
    ink: LineBasicMaterial,
    clipping: Plane[],
    before: Model | null,
  ) {
    for (const part of record.parts) this.parts.set(part.label, part);
    for (const copy of record.copies) {
      const solid = shapes.get(copy.label);
      const part = this.parts.get(copy.label);
      if (!solid || !part) continue;
      const seen = JSON.stringify([part.surface, part.cut, part.finished, part.grain, part.layers, copy.run, copy.figure]);
      const was = before?.copies.get(copy.id);
      const material = was?.seen === seen ? was.mesh.material : look(copy, part, clipping);
      this.add(copy, part, solid, new LineSegments(solid.lines, ink), material, seen);
    }
    this.pose();
  }

  private add(
    record: CopyRecord,
    part: PartRecord,
    solid: Body,
    lines: LineSegments<BufferGeometry, LineBasicMaterial>,
    material: MeshLambertMaterial,
    seen: string,
  ): void {
    const mesh = new Mesh(solid.geometry, material);
    mesh.castShadow = mesh.receiveShadow = true;
    lines.raycast = () => {};
    const node = new Group();
    node.matrixAutoUpdate = false;
    node.add(mesh, lines);
    node.userData["copy"] = record.id;
    this.root.add(node);
    const p = record.placement;
    const home = new Matrix4().set(p[0]!, p[1]!, p[2]!, p[3]!, p[4]!, p[5]!, p[6]!, p[7]!, p[8]!, p[9]!, p[10]!, p[11]!, 0, 0, 0, 1);
    this.copies.set(record.id, { record, part, body: solid, node, mesh, lines, home, seen });
  }

  /** Put every copy where the sliders, the steps and the lists want it. */
  pose(): void {
    const movers = new Map(this.record.movers.map((mover) => [mover.id, this.moved(mover)]));
    for (const copy of this.copies.values()) {
      const motion = copy.record.mover ? movers.get(copy.record.mover) : undefined;
      copy.node.matrix.copy(copy.home);
      if (motion) copy.node.matrix.premultiply(motion);
      copy.node.matrix.premultiply(shift(this.away(copy.record)));
      copy.node.matrixWorldNeedsUpdate = true;
      copy.node.visible = this.shows(copy.record.id);
    }
    this.root.updateMatrixWorld(true);
  }

  shows(id: string): boolean {
    if (this.hidden.has(id) || (this.only && !this.only.has(id))) return false;
    return !this.stepped || this.stepped.has(id);
  }

  private away(copy: CopyRecord): Vector3 {
    const away = vector(copy.apart).multiplyScalar(this.apart);
    const place = this.step ? this.step.copies.indexOf(copy.id) : -1;
    const way = place >= 0 ? this.step!.directions[place] : null;
    return way ? away.addScaledVector(vector(way), -OUT_OF_STEP * this.reach()) : away;
  }

  /** The piece's longest side (mm). */
  reach(): number {
    const [low, high] = this.record.bounds ?? [[0, 0, 0], [1000, 1000, 1000]];
    return Math.max(high[0]! - low[0]!, high[1]! - low[1]!, high[2]! - low[2]!);
  }

  /** The box around all that is shown, as it stands now. */
  box(): Box3 {
    const whole = new Box3();
    for (const { body, node } of this.copies.values()) {
      if (!node.visible) continue;
      if (!body.geometry.boundingBox) body.geometry.computeBoundingBox();
      whole.union(body.geometry.boundingBox!.clone().applyMatrix4(node.matrix));
    }
    return whole;
  }

  private moved(mover: MoverRecord): Matrix4 {
    const share = this.open.get(mover.id) ?? 0;
    const axis = vector(mover.axis);
    if (mover.kind === "slides") return shift(axis.multiplyScalar(mover.limit * share));
    const turn = new Quaternion().setFromAxisAngle(axis, (mover.limit * share * Math.PI) / 180);
    const about = vector(mover.origin);
    return shift(about)
      .multiply(new Matrix4().makeRotationFromQuaternion(turn))
      .multiply(shift(about.clone().negate()));
  }

  /** Free what the graphics card holds, but for what the piece that comes after shows again. */
  dispose(after: Model): void {
    const bodies = new Set([...after.copies.values()].map((copy) => copy.body));
    const looks = new Set([...after.copies.values()].map((copy) => copy.mesh.material));
    for (const copy of this.copies.values()) {
      if (!looks.has(copy.mesh.material)) copy.mesh.material.dispose();
      if (bodies.has(copy.body)) continue;
      copy.body.geometry.dispose();
      copy.body.lines.dispose();
    }
  }
}

export function vector(v: Vec): Vector3 {
  return new Vector3(v[0], v[1], v[2]);
}

function shift(by: Vector3): Matrix4 {
  return new Matrix4().makeTranslation(by);
}
