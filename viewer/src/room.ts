// What a client sees around the piece: a wall, a floor, somebody for scale, books on open shelves.

import {
  BoxGeometry,
  Group,
  Mesh,
  MeshLambertMaterial,
  PlaneGeometry,
  Shape,
  ShapeGeometry,
  Vector2,
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
  // from between the legs down one leg, up its side, round an arm to the neck
  const half: [number, number][] = [
    [0.0, 0.465], [0.016, 0.28], [0.026, 0.05], [0.024, 0.006], [0.06, 0.0], [0.09, 0.006], [0.07, 0.045],
    [0.082, 0.16], [0.09, 0.28], [0.104, 0.42], [0.11, 0.52], [0.104, 0.62], [0.112, 0.72], [0.128, 0.64], [0.134, 0.54],
    [0.142, 0.445], [0.158, 0.43], [0.168, 0.47], [0.166, 0.56], [0.165, 0.66], [0.158, 0.76], [0.132, 0.808], [0.06, 0.833],
    [0.036, 0.848], [0.034, 0.88],
  ];
  const side = (sign: number): Vector2[] => half.map(([x, z]) => new Vector2(0.82 * sign * x * TALL, z * TALL));
  const [first, ...outline] = [...side(1), ...side(-1).reverse()];
  body.moveTo(first!.x, first!.y).splineThru(outline);
  const head = new Shape().absellipse(0, 0.93 * TALL, 0.043 * TALL, 0.064 * TALL, 0, 2 * Math.PI);
  const made = plain(new ShapeGeometry([body, head]), "#8d867c", true);
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
