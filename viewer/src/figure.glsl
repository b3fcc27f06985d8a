// The look of wood and board, worked out from where a point lies in the part.
// vFigure: along the grain, across it, through the board (mm); vAt: part axes (mm).

float hashed(vec3 p) {
  p = fract(p * 0.1031);
  p += dot(p, p.zyx + 31.32);
  return fract((p.x + p.y) * p.z);
}

float noise(vec3 p) {
  vec3 cell = floor(p);
  vec3 f = fract(p);
  f = f * f * (3.0 - 2.0 * f);
  vec4 low = vec4(hashed(cell), hashed(cell + vec3(1, 0, 0)), hashed(cell + vec3(0, 1, 0)), hashed(cell + vec3(1, 1, 0)));
  cell.z += 1.0;
  vec4 high = vec4(hashed(cell), hashed(cell + vec3(1, 0, 0)), hashed(cell + vec3(0, 1, 0)), hashed(cell + vec3(1, 1, 0)));
  vec4 four = mix(low, high, f.z);
  vec2 two = mix(four.xz, four.yw, f.x);
  return mix(two.x, two.y, f.y);
}

// How much of a detail of this size (mm) the screen can show.
float shown(float size) {
  return 1.0 - smoothstep(0.35, 0.9, uPixel / size);
}

// What a point shows: a figure, plies, or what is inside a board. All noise that it takes is worked
// out in one place: a processor that draws compiles every call anew, and starts the later for each.
struct Point {
  vec3 f;
  bool face;
  bool figured;
  float place; // in plies from below
  int count;
  vec3 where[4];
};

// Veneer is laid leaf beside leaf, every other one turned over.
vec3 leaves(vec3 f) {
  float across = abs(fract(f.y / 300.0 + 0.25) - 0.5) * 300.0 - 75.0;
  return vec3(f.x, across, uBoard * 12.0);
}

Point point(vec3 at, vec3 f, vec3 n) {
  Point p;
  float depth = at.z / uThick;
  float skin = uSort == 1 ? 0.03 : 0.06;
  p.face = abs(n.z) > 0.8 && (depth < skin || depth > 1.0 - skin);
  p.figured = uSort == 0 || (p.face && (uSort == 1 || uFigured));
  p.place = clamp(depth, 0.0, 0.9999) * uPlies;
  p.f = uSort == 0 ? f : leaves(f);
  p.f.x += uBoard * 911.0;
  p.count = 1;
  if (p.figured) {
    p.count = 4;
    p.where[0] = vec3(p.f.x * 0.004, uBoard * 17.0, p.f.y * 0.008);
    p.where[1] = p.f * vec3(0.02, 0.12, 0.12);
    p.where[2] = p.f * vec3(0.035, 1.1, 1.1);
    p.where[3] = p.f * vec3(0.003, 0.07, 0.07);
  } else if (uSort == 1) {
    p.where[0] = at * (mod(floor(p.place), 2.0) < 0.5 ? vec3(0.05, 1.2, 1.0) : vec3(1.2, 0.05, 1.0));
  } else if (p.face) {
    p.count = 2;
    p.where[0] = at * 0.035;
    p.where[1] = at * 0.6;
  } else {
    p.where[0] = at * 0.9;
  }
  return p;
}

// Growth rings of a log that tapers: arches on a flat-sawn face, stripes on a quartered one.
vec3 wood(vec3 f, float heard[4], vec3 base) {
  float wander = heard[0] - 0.5;
  vec2 pith = uQuartered ? vec2(-190.0, 8.0) : vec2(24.0 * (uBoard - 0.5) + 30.0 * wander, -38.0);
  float ring = length(f.yz - pith) - 0.017 * f.x + 7.0 * wander + 1.6 * heard[1];
  ring /= 6.4;
  float kept = 1.0 - smoothstep(0.22, 0.65, fwidth(ring));
  float year = fract(ring);
  float late = smoothstep(0.1, 0.8, year) * (1.0 - smoothstep(0.84, 1.0, year));
  float fibre = shown(1.4) * (heard[2] - 0.5);
  float streak = heard[3] - 0.5;
  float tone = 1.04 + 0.10 * wander + 0.10 * streak - 0.24 * kept * (late - 0.35) + 0.16 * fibre;
  return base * tone * mix(vec3(1.0), vec3(1.02, 0.96, 0.88), kept * late * 0.7);
}

// A sheet's edges and whatever is cut into it show the plies.
vec3 plies(float place, float heard) {
  float odd = mod(floor(place), 2.0);
  float line = shown(0.9) * (1.0 - smoothstep(0.0, 0.14, min(fract(place), 1.0 - fract(place))));
  float grain = shown(1.2) * (heard - 0.5);
  return uCore * (mix(1.04, 0.80, odd * shown(1.5)) + 0.14 * grain - 0.22 * line);
}

vec3 board(float heard[4], bool face, vec3 base) {
  if (!face) return uCore * (0.94 + 0.12 * shown(1.2) * heard[0]);
  return base * (1.0 + 0.05 * (heard[0] - 0.5) + 0.05 * shown(2.0) * (heard[1] - 0.5));
}

vec3 surface(vec3 at, vec3 f, vec3 n, vec3 base) {
  if (uSort == 3) return base;
  Point p = point(at, f, n);
  float heard[4];
  for (int i = 0; i < p.count; i++) heard[i] = noise(p.where[i]);
  if (p.figured) return wood(p.f, heard, base);
  return uSort == 1 ? plies(p.place, heard[0]) : board(heard, p.face, base);
}
