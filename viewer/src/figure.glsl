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

// Growth rings of a log that tapers: arches on a flat-sawn face, stripes on a quartered one.
vec3 wood(vec3 f, vec3 base) {
  f.x += uBoard * 911.0;
  float wander = noise(vec3(f.x * 0.004, uBoard * 17.0, f.y * 0.008)) - 0.5;
  vec2 pith = uQuartered ? vec2(-190.0, 8.0) : vec2(24.0 * (uBoard - 0.5) + 30.0 * wander, -38.0);
  float ring = length(f.yz - pith) - 0.017 * f.x + 7.0 * wander + 1.6 * noise(f * vec3(0.02, 0.12, 0.12));
  ring /= 6.4;
  float kept = 1.0 - smoothstep(0.22, 0.65, fwidth(ring));
  float year = fract(ring);
  float late = smoothstep(0.1, 0.8, year) * (1.0 - smoothstep(0.84, 1.0, year));
  float fibre = shown(1.4) * (noise(f * vec3(0.035, 1.1, 1.1)) - 0.5);
  float streak = noise(f * vec3(0.003, 0.07, 0.07)) - 0.5;
  float tone = 1.04 + 0.10 * wander + 0.10 * streak - 0.24 * kept * (late - 0.35) + 0.16 * fibre;
  return base * tone * mix(vec3(1.0), vec3(1.02, 0.96, 0.88), kept * late * 0.7);
}

// Veneer is laid leaf beside leaf, every other one turned over.
vec3 veneer(vec3 f, vec3 base) {
  float leaf = f.y / 150.0;
  float across = abs(fract(leaf * 0.5 + 0.25) - 0.5) * 300.0 - 75.0;
  return wood(vec3(f.x, across, uBoard * 12.0), base);
}

// A sheet's two faces carry veneer; its edges and whatever is cut into it show the plies.
vec3 plies(vec3 at, vec3 f, vec3 n, vec3 base) {
  float depth = at.z / uThick;
  bool face = abs(n.z) > 0.8 && (depth < 0.03 || depth > 0.97);
  if (face) return veneer(f, base);
  float place = clamp(depth, 0.0, 0.9999) * uPlies;
  float odd = mod(floor(place), 2.0);
  float line = shown(0.9) * (1.0 - smoothstep(0.0, 0.14, min(fract(place), 1.0 - fract(place))));
  float grain = shown(1.2) * (noise(odd < 0.5 ? at * vec3(0.05, 1.2, 1.0) : at * vec3(1.2, 0.05, 1.0)) - 0.5);
  return uCore * (mix(1.04, 0.80, odd * shown(1.5)) + 0.14 * grain - 0.22 * line);
}

vec3 board(vec3 at, vec3 f, vec3 n, vec3 base) {
  float depth = at.z / uThick;
  if (abs(n.z) > 0.8 && (depth < 0.06 || depth > 0.94)) {
    if (uFigured) return veneer(f, base);
    float cloud = noise(at * 0.035) - 0.5;
    return base * (1.0 + 0.05 * cloud + 0.05 * shown(2.0) * (noise(at * 0.6) - 0.5));
  }
  return uCore * (0.94 + 0.12 * shown(1.2) * noise(at * 0.9));
}

vec3 surface(vec3 at, vec3 f, vec3 n, vec3 base) {
  if (uSort == 0) return wood(f, base);
  if (uSort == 1) return plies(at, f, n, base);
  if (uSort == 2) return board(at, f, n, base);
  return base;
}
