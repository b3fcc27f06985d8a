// What a client sees around the piece: a wall, a floor, somebody for scale, books on open shelves.

import {
  BoxGeometry,
  Group,
  Mesh,
  MeshLambertMaterial,
  PlaneGeometry,
  Shape,
  ShapeGeometry,
  type BufferGeometry,
} from "three";
import { BESIDE, TALL, type App } from "./app";
import { seed } from "./looks";
import type { OpeningRecord } from "./record";
import type { Stage } from "./stage";

const BEHIND = 12; // mm between the piece and the wall
const CLOTHS = ["#8c4a3c", "#3f5b66", "#b08a4f", "#56664a", "#6f5b73", "#a9a08e"];

export function room(app: App, stage: Stage): void {
  const things = new Group();
  things.visible = false;
  stage.add(things);
  const build = (): void => {
    for (const thing of things.children) (thing as Mesh<BufferGeometry>).geometry.dispose();
    things.clear();
    things.add(...wall(app), somebody(app), ...books(app));
  };
  const show = (): void => {
    things.visible = app.audience === "client";
    if (things.visible && !things.children.length) build();
  };
  app.on("audience", show);
  app.on("piece", () => {
    if (things.children.length) build();
  });
}

function plain(geometry: BufferGeometry, colour: string, casts: boolean): Mesh {
  const made = new Mesh(geometry, new MeshLambertMaterial({ color: colour }));
  made.castShadow = casts;
  made.receiveShadow = true;
  return made;
}

function wall(app: App): Mesh[] {
  const { min, max } = app.bounds();
  const wide = Math.max(max.x - min.x, 1200) * 3;
  const back = plain(new PlaneGeometry(wide, 2500), "#d9d6cd", false);
  back.rotation.x = Math.PI / 2;
  back.position.set((min.x + max.x) / 2, max.y + BEHIND, min.z + 1250);
  const floor = plain(new PlaneGeometry(wide, wide), "#b7a68d", false);
  floor.position.set((min.x + max.x) / 2, max.y + BEHIND - wide / 2, min.z - 1);
  return [back, floor];
}

/** A flat figure beside the piece, drawn as one outline. */
function somebody(app: App): Mesh {
  const { min, max } = app.bounds();
  const body = new Shape();
  const half: [number, number][] = [
    [0.0, 0.0], [0.075, 0.0], [0.08, 0.02], [0.06, 0.05], [0.075, 0.27], [0.1, 0.49], [0.105, 0.56],
    [0.135, 0.46], [0.16, 0.47], [0.15, 0.62], [0.14, 0.77], [0.11, 0.815], [0.035, 0.845], [0.032, 0.87],
  ];
  const side = (sign: number): [number, number][] => half.map(([x, z]) => [0.78 * sign * x * TALL, z * TALL]);
  const outline = [...side(1), ...side(-1).reverse()];
  outline.forEach(([x, z], place) => (place ? body.lineTo(x, z) : body.moveTo(x, z)));
  const head = new Shape().absellipse(0, 0.93 * TALL, 0.047 * TALL, 0.068 * TALL, 0, 2 * Math.PI);
  const made = plain(new ShapeGeometry([body, head]), "#77716a", true);
  made.rotation.x = Math.PI / 2;
  made.position.set(max.x + 0.6 * BESIDE, (min.y + max.y) / 2, min.z);
  return made;
}

/** A row of books in every opening with open shelves; where there is none, a few on the top. */
function books(app: App): Mesh[] {
  const open = app.record.openings.filter((opening) => opening.kind === "shelves");
  if (open.length) return open.flatMap(row);
  const { min, max } = app.bounds();
  const top: OpeningRecord = {
    id: "top",
    kind: "top",
    corner: [min.x + (max.x - min.x) * 0.08, min.y + 40, max.z],
    width: Math.min(260, (max.x - min.x) * 0.4),
    height: 260,
    depth: Math.min(max.y - min.y, 300),
  };
  return row(top);
}

function row(opening: OpeningRecord): Mesh[] {
  const made: Mesh[] = [];
  const [x, y, z] = opening.corner;
  const end = opening.kind === "top" ? opening.width : opening.width * 0.7;
  for (let at = 8, count = 0; at < end - 40; count++) {
    const chance = (what: string): number => seed(`${opening.id} ${count} ${what}`);
    const thick = 16 + 28 * chance("thick");
    const tall = Math.min(opening.height - 25, 190 + 75 * chance("tall"));
    const deep = Math.min(opening.depth - 20, 150 + 40 * chance("deep"));
    const book = plain(new BoxGeometry(thick, deep, tall), CLOTHS[Math.floor(6 * chance("cloth"))]!, true);
    book.position.set(x + at + thick / 2, y + 20 + deep / 2, z + tall / 2);
    made.push(book);
    at += thick + 0.6;
  }
  return made;
}
