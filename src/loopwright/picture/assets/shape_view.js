"use strict";
// Draws the relaxed fabric, turns and colours it, and tells what a loop is.
// WebGL where there is any, a plain canvas otherwise; marks of the chosen loop lie on a canvas above.
(() => {
  const canvas = document.getElementById("sock");
  if (!canvas) return;
  const shapes = JSON.parse(document.getElementById("data").textContent).shapes;
  const START = { across: 0.5, up: -0.15, zoom: 1, x: 0, y: 0 };
  let pose = { ...START };
  let mesh = null;
  let way = null;
  let picked = -1;
  let asked = false;

  // ---- from text to numbers

  const bytes = (text) => Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0)).buffer;

  function unpack(packed) {
    const Place = packed.bits === 16 ? Uint16Array : Uint32Array;
    const scale = packed.mm_per_step / packed.radius_mm;
    const points = Float32Array.from(new Int16Array(bytes(packed.points)), (step) => step * scale);
    const corners = Uint32Array.from(new Place(bytes(packed.corners)));
    const ids = [];
    for (let at = 0; at < packed.ids.length; at += 2) for (let n = 0; n < packed.ids[at + 1]; n++) ids.push(packed.ids[at] + n);
    const colours = packed.colours.map((one) => ({ ...one, values: new Uint8Array(bytes(one.values)), tints: tints(one) }));
    const found = { name: packed.name, points, corners, ids, colours, normals: normals(points, corners), spacing: Math.sqrt(12 / ids.length) };
    return packed.course === undefined ? found : { ...found, ...loops(packed, Place, ids.length) };
  }

  function tints(colour) {
    if (colour.palette) return new Uint8Array(bytes(colour.palette));
    return Uint8Array.from(colour.names.flatMap(([, hex]) => [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16))));
  }

  function loops(packed, Place, count) {
    const on = Int32Array.from({ length: count }, (_, at) => at + 1);
    for (let at = 0; at < packed.yarn.length; at += 2) on[packed.yarn[at]] = packed.yarn[at + 1];
    const back = new Int32Array(count).fill(-1);
    on.forEach((to, at) => { if (to >= 0) back[to] = at; });
    const [below, above] = [Array.from({ length: count }, () => []), Array.from({ length: count }, () => [])];
    const pairs = new Place(bytes(packed.through));
    for (let at = 0; at < pairs.length; at += 2) {
      below[pairs[at + 1]].push(pairs[at]);
      above[pairs[at]].push(pairs[at + 1]);
    }
    const course = new Place(bytes(packed.course));
    const rows = new Map();
    const rank = new Int32Array(count);
    course.forEach((row, at) => { rank[at] = (rows.get(row) || 0) + 1; rows.set(row, rank[at]); });
    return { on, back, below, above, course, rank, rows, last: Math.max(...rows.keys()), parts: packed.parts,
      stitch: new Place(bytes(packed.stitch)), stitches: packed.stitches };
  }

  function normals(points, corners) {
    const found = new Float32Array(points.length);
    for (let at = 0; at < corners.length; at += 3) {
      const a = 3 * corners[at], b = 3 * corners[at + 1], c = 3 * corners[at + 2];
      const ux = points[b] - points[a], uy = points[b + 1] - points[a + 1], uz = points[b + 2] - points[a + 2];
      const vx = points[c] - points[a], vy = points[c + 1] - points[a + 1], vz = points[c + 2] - points[a + 2];
      for (const corner of [a, b, c]) {
        found[corner] += uy * vz - uz * vy;
        found[corner + 1] += uz * vx - ux * vz;
        found[corner + 2] += ux * vy - uy * vx;
      }
    }
    for (let at = 0; at < found.length; at += 3) {
      const length = Math.hypot(found[at], found[at + 1], found[at + 2]) || 1;
      for (let axis = 0; axis < 3; axis++) found[at + axis] /= length;
    }
    return found;
  }

  // ---- where things lie on the screen

  // Column by column: first turn round the upright axis, then tip.
  function turned() {
    const [ca, sa, cu, su] = [Math.cos(pose.across), Math.sin(pose.across), Math.cos(pose.up), Math.sin(pose.up)];
    return [ca, su * sa, -cu * sa, 0, cu, su, sa, -su * ca, cu * ca];
  }
  const moved = (m, from, at) => [0, 1, 2].map((row) => m[row] * from[3 * at] + m[3 + row] * from[3 * at + 1] + m[6 + row] * from[3 * at + 2]);
  // Half the shorter side of the picture is one radius of the fabric.
  function frame(width, height) {
    const scale = (pose.zoom * Math.min(width, height)) / 2;
    return { scale, x: width / 2 + pose.x * scale, y: height / 2 - pose.y * scale };
  }
  function flat(width, height) {
    const [m, f, count] = [turned(), frame(width, height), mesh.points.length / 3];
    const at = new Float32Array(3 * count);
    for (let n = 0; n < count; n++) {
      const [x, y, z] = moved(m, mesh.points, n);
      at.set([f.x + f.scale * x, f.y - f.scale * y, z], 3 * n);
    }
    return at;
  }
  // Twice the signed area; positive where the right side faces the viewer (the screen's y goes down).
  const area = (at, a, b, c) => (at[3 * c] - at[3 * a]) * (at[3 * b + 1] - at[3 * a + 1]) - (at[3 * b] - at[3 * a]) * (at[3 * c + 1] - at[3 * a + 1]);

  // ---- painting

  const VERTEX = `
attribute vec3 point; attribute vec3 normal; attribute vec3 share;
attribute vec3 first; attribute vec3 second; attribute vec3 third;
uniform mat3 pose; uniform vec2 scale; uniform vec2 shift;
varying vec3 way; varying vec3 part; varying vec3 a; varying vec3 b; varying vec3 c;
void main() {
  vec3 at = pose * point; way = pose * normal; part = share; a = first; b = second; c = third;
  gl_Position = vec4((at.xy + shift) * scale, -at.z * 0.4, 1.0);
}`;
  // Each loop owns what lies nearest to it, in one colour, with a fine line round it when it is large.
  const FRAGMENT = `
precision mediump float;
varying vec3 way; varying vec3 part; varying vec3 a; varying vec3 b; varying vec3 c;
uniform float named; uniform float edge;
void main() {
  vec3 n = normalize(gl_FrontFacing ? way : -way);
  float light = 0.5 + 0.5 * max(dot(n, normalize(vec3(-0.35, 0.55, 0.75))), 0.0);
  float most = max(part.x, max(part.y, part.z));
  float next = part.x + part.y + part.z - most - min(part.x, min(part.y, part.z));
  vec3 own = part.x == most ? a : part.y == most ? b : c;
  vec3 hue = named > 0.5 ? own : part.x * a + part.y * b + part.z * c;
  float line = edge > 0.0 ? 0.78 + 0.22 * smoothstep(0.0, edge, most - next) : 1.0;
  gl_FragColor = vec4(hue * light * line * (gl_FrontFacing ? 1.0 : 0.5), 1.0);
}`;

  function glPainter(gl) {
    const program = gl.createProgram();
    for (const [kind, source] of [[gl.VERTEX_SHADER, VERTEX], [gl.FRAGMENT_SHADER, FRAGMENT]]) {
      const shader = gl.createShader(kind);
      gl.shaderSource(shader, source);
      gl.compileShader(shader);
      gl.attachShader(program, shader);
    }
    gl.linkProgram(program);
    if (!gl.getProgramParameter(program, gl.LINK_STATUS)) return null;
    gl.useProgram(program);
    gl.enable(gl.DEPTH_TEST);
    gl.clearColor(0, 0, 0, 0);
    const place = (name) => gl.getUniformLocation(program, name);
    const buffers = {};
    function give(name, values, kind = gl.FLOAT) {
      buffers[name] = buffers[name] || gl.createBuffer();
      gl.bindBuffer(gl.ARRAY_BUFFER, buffers[name]);
      gl.bufferData(gl.ARRAY_BUFFER, values, gl.STATIC_DRAW);
      const slot = gl.getAttribLocation(program, name);
      gl.enableVertexAttribArray(slot);
      gl.vertexAttribPointer(slot, 3, kind, kind !== gl.FLOAT, 0, 0);
    }
    // Corner by corner: each triangle has corners of its own, so that they can know all three colours.
    function spreadOut(from, Kind, take) {
      const values = new Kind(3 * mesh.corners.length);
      for (let at = 0; at < mesh.corners.length; at++) {
        const loop = 3 * take(at);
        for (let k = 0; k < 3; k++) values[3 * at + k] = from[loop + k];
      }
      return values;
    }
    return {
      load() {
        give("point", spreadOut(mesh.points, Float32Array, (at) => mesh.corners[at]));
        give("normal", spreadOut(mesh.normals, Float32Array, (at) => mesh.corners[at]));
        give("share", spreadOut([255, 0, 0, 0, 255, 0, 0, 0, 255], Uint8Array, (at) => at % 3), gl.UNSIGNED_BYTE);
      },
      colour() {
        ["first", "second", "third"].forEach((name, k) => {
          give(name, spreadOut(way.tints, Uint8Array, (at) => way.values[mesh.corners[at - (at % 3) + k]]), gl.UNSIGNED_BYTE);
        });
      },
      paint(width, height) {
        gl.viewport(0, 0, width, height);
        gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
        const least = Math.min(width, height);
        const wide = (mesh.spacing * pose.zoom * least) / 4; // a loop's radius in pixels, about
        gl.uniformMatrix3fv(place("pose"), false, turned());
        gl.uniform2f(place("scale"), (pose.zoom * least) / width, (pose.zoom * least) / height);
        gl.uniform2f(place("shift"), pose.x, pose.y);
        gl.uniform1f(place("named"), way.palette ? 0 : 1);
        gl.uniform1f(place("edge"), wide > 5 ? 1.5 / wide : 0);
        gl.drawArrays(gl.TRIANGLES, 0, mesh.corners.length);
      },
    };
  }

  function planePainter(pen) {
    return {
      load() {},
      colour() {},
      paint(width, height) {
        pen.clearRect(0, 0, width, height);
        const at = flat(width, height);
        const faces = [...Array(mesh.corners.length / 3).keys()].map((face) => [0, 1, 2].map((k) => mesh.corners[3 * face + k]));
        const depth = (face) => at[3 * face[0] + 2] + at[3 * face[1] + 2] + at[3 * face[2] + 2];
        for (const face of faces.sort((a, b) => depth(a) - depth(b))) {
          const light = area(at, ...face) > 0 ? 1 : 0.5;
          const tint = 3 * way.values[face[0]];
          pen.fillStyle = pen.strokeStyle = "rgb(" + [0, 1, 2].map((k) => Math.round(way.tints[tint + k] * light)).join(" ") + ")";
          pen.beginPath();
          face.forEach((n, k) => pen[k ? "lineTo" : "moveTo"](at[3 * n], at[3 * n + 1]));
          pen.closePath(); pen.fill(); pen.stroke();
        }
      },
    };
  }

  function newPainter() {
    const gl = canvas.getContext("webgl", { antialias: true, preserveDrawingBuffer: true });
    return gl ? glPainter(gl) : planePainter(canvas.getContext("2d"));
  }
  let painter = null;
  const marks = document.getElementById("sock-marks");
  const pen = marks.getContext("2d");

  // The chosen loop in a ring, the yarn through it as a line, what it is drawn through as dashes.
  function mark(width, height, sharp) {
    pen.clearRect(0, 0, width, height);
    if (picked < 0) return;
    const [m, f] = [turned(), frame(width, height)];
    const spot = (n) => { const [x, y] = moved(m, mesh.points, n); return [f.x + f.scale * x, f.y - f.scale * y]; };
    const stroke = (from, to, dashes) => {
      pen.beginPath(); pen.moveTo(...spot(from)); pen.lineTo(...spot(to));
      for (const [colour, wide] of [["#fff", 6], ["#000", 2.5]]) {
        pen.setLineDash(colour === "#000" ? dashes.map((one) => one * sharp) : []);
        pen.strokeStyle = colour; pen.lineWidth = wide * sharp; pen.stroke();
      }
    };
    const dot = (n, radius, fill) => {
      pen.setLineDash([]); pen.beginPath(); pen.arc(...spot(n), radius * sharp, 0, 7);
      pen.fillStyle = fill; pen.fill();
      for (const [colour, wide] of [["#fff", 5], ["#000", 2.5]]) { pen.strokeStyle = colour; pen.lineWidth = wide * sharp; pen.stroke(); }
    };
    pen.globalAlpha = faces(picked) > 0 ? 1 : 0.4; // it lies on the far side
    const near = neighbours(picked);
    for (const n of [...near.below, ...near.above]) stroke(n, picked, [4, 3]);
    for (const n of [...near.back, ...near.on]) stroke(n, picked, []);
    for (const n of Object.values(near).flat()) dot(n, 3, "#000");
    dot(picked, 7, "rgb(255 255 255 / 35%)");
    pen.globalAlpha = 1;
  }
  const faces = (n) => moved(turned(), mesh.normals, n)[2];

  function draw() {
    if (asked || !mesh) return;
    asked = true;
    requestAnimationFrame(() => {
      asked = false;
      const sharp = Math.min(window.devicePixelRatio || 1, 2);
      const [width, height] = [Math.round(canvas.clientWidth * sharp), Math.round(canvas.clientHeight * sharp)];
      if (!width || !height) return;
      for (const one of [canvas, marks]) if (one.width !== width || one.height !== height) [one.width, one.height] = [width, height];
      painter.paint(width, height);
      mark(width, height, sharp);
      canvas.dataset.pose = Object.values(pose).map((value) => value.toFixed(3)).join(" ");
    });
  }

  // ---- colours and their legend

  const made = (tag, text, name) => { const one = document.createElement(tag); if (text) one.textContent = text; if (name) one.className = name; return one; };
  const plain = (value) => (Math.abs(value) >= 10 || Number.isInteger(value) ? value.toFixed(0) : value.toFixed(1)).replace("-", "−");
  const ramp = (colour, at) => "rgb(" + colour.tints.slice(3 * at, 3 * at + 3).join(" ") + ")";

  function paintBy(name) {
    way = mesh.colours.find((one) => one.by === name) || mesh.colours[0];
    const legend = document.getElementById("sock-legend");
    legend.replaceChildren(made("strong", way.words[0].toUpperCase() + way.words.slice(1)));
    if (way.palette) {
      const scale = made("span", "", "scale");
      const bar = made("span", "", "ramp");
      bar.style.background = "linear-gradient(to right, " + [...Array(17).keys()].map((k) => ramp(way, Math.min(16 * k, 255))).join(", ") + ")";
      const ticks = made("span", "", "ticks");
      for (let k = 0; k < 5; k++) ticks.append(made("span", plain(way.low + ((way.high - way.low) * k) / 4)));
      scale.append(bar, ticks);
      legend.append(scale);
    } else {
      for (const [name, hex, count] of way.names) {
        const [entry, swatch] = [made("span"), made("span", "", "swatch")];
        swatch.style.background = hex;
        entry.append(swatch, name + " (" + count + ")");
        legend.append(entry);
      }
    }
    painter.colour();
    draw();
  }

  const choice = document.getElementById("sock-by");
  function offer() {
    const field = choice.querySelector("fieldset");
    const before = way && way.by;
    field.querySelectorAll("label").forEach((one) => one.remove());
    for (const colour of mesh.colours) {
      const [label, input] = [made("label"), made("input")];
      Object.assign(input, { type: "radio", name: "by", value: colour.by, checked: colour.by === (before || mesh.colours[0].by) });
      label.append(input, made("span", colour.by));
      field.append(label);
    }
    paintBy(before);
  }
  choice.addEventListener("change", (event) => paintBy(event.target.value));
  choice.addEventListener("submit", (event) => event.preventDefault());

  // ---- the chosen loop

  const one = (n) => (n >= 0 ? [n] : []);
  function neighbours(n) {
    if (!mesh.on) return { back: [], on: [], below: [], above: [] };
    return { back: one(mesh.back[n]), on: one(mesh.on[n]), below: mesh.below[n], above: mesh.above[n] };
  }

  function told(n) {
    const lines = [];
    const value = (by) => mesh.colours.find((colour) => colour.by === by);
    const named = (by) => value(by).names[value(by).values[n]][0];
    const brief = (all) => all.map((m) => "loop " + mesh.ids[m] + " (" + mesh.stitches[mesh.stitch[m]][0] + ")").join(", ") || "none";
    if (mesh.on) {
      const [key, name] = mesh.stitches[mesh.stitch[n]];
      const part = mesh.parts.filter(([, first]) => first <= n).pop();
      const since = part ? mesh.course[n] - (part[1] ? mesh.course[part[1] - 1] : 0) : 0;
      lines.push(["Loop", mesh.ids[n] + ": " + (key === name ? key : key + ", " + name) + "; seen from the right side: " + named("stitch")]);
      lines.push(["Course", mesh.course[n] + " of " + mesh.last + " (round or row; the cast-on is 0)" + (part && since > 0 ? ", number " + since + " under “" + part[0] + "”" : "")]);
      lines.push(["Place", "number " + mesh.rank[n] + " of " + mesh.rows.get(mesh.course[n]) + " in its course"]);
      lines.push(["Yarn", named("yarn")]);
      const near = neighbours(n);
      lines.push(["Along the yarn", "before it " + brief(near.back) + "; after it " + brief(near.on)]);
      lines.push(["Drawn through", brief(near.below)]);
      lines.push(["Through it", brief(near.above)]);
    } else lines.push(["Loop", String(mesh.ids[n])]);
    for (const by of ["curvature", "strain"]) {
      const colour = value(by);
      const at = colour.values[n];
      const bound = at === 255 ? "at least " : at === 0 ? "at most " : "";
      const [name, unit] = colour.words.split(", ");
      lines.push([name[0].toUpperCase() + name.slice(1), bound + (colour.low + ((colour.high - colour.low) * at) / 255).toFixed(1).replace("-", "−") + " " + unit]);
    }
    return lines;
  }

  function pick(n, { show = false } = {}) {
    picked = n;
    canvas.dataset.loop = n < 0 ? "" : mesh.ids[n];
    const list = made("dl");
    if (n >= 0) for (const [term, text] of told(n)) list.append(made("dt", term), made("dd", text));
    document.getElementById("sock-loop").replaceChildren(n < 0 ? made("p", "No loop is chosen.") : list);
    if (n >= 0 && show) bringIntoSight(n);
    draw();
  }

  function bringIntoSight(n) {
    if (faces(n) < 0.15) {
      const [x, y, z] = mesh.normals.slice(3 * n, 3 * n + 3);
      pose.across = Math.atan2(-x, z);
      pose.up = Math.max(-1.2, Math.min(1.2, Math.atan2(y, Math.hypot(x, z)) * 0.8));
    }
    const [width, height] = [canvas.clientWidth, canvas.clientHeight];
    const [x, y] = moved(turned(), mesh.points, n);
    const f = frame(width, height);
    const [sx, sy] = [f.x + f.scale * x, f.y - f.scale * y];
    if (sx < 0.1 * width || sx > 0.9 * width) pose.x = -x;
    if (sy < 0.1 * height || sy > 0.9 * height) pose.y = -y;
  }

  // The loop whose own part of the surface is seen at this point, -1 beside the fabric.
  function loopAt(x, y) {
    const at = flat(canvas.clientWidth, canvas.clientHeight);
    let [best, depth] = [-1, -Infinity];
    for (let face = 0; face < mesh.corners.length; face += 3) {
      const [a, b, c] = mesh.corners.subarray(face, face + 3);
      const whole = area(at, a, b, c);
      if (!whole) continue;
      const shares = [[b, c], [c, a], [a, b]].map(([p, q]) =>
        ((at[3 * q] - x) * (at[3 * p + 1] - y) - (at[3 * p] - x) * (at[3 * q + 1] - y)) / whole);
      if (Math.min(...shares) < 0) continue;
      const z = shares[0] * at[3 * a + 2] + shares[1] * at[3 * b + 2] + shares[2] * at[3 * c + 2];
      if (z > depth) [best, depth] = [[a, b, c][shares.indexOf(Math.max(...shares))], z];
    }
    return best;
  }

  function step(which) {
    if (!mesh) return undefined;
    if (which === "none") return pick(-1);
    if (picked < 0) return pick(nearest(), { show: true });
    const next = neighbours(picked)[which];
    if (next.length) pick(next[0], { show: true });
    return undefined;
  }
  function nearest() {
    const [width, height] = [canvas.clientWidth, canvas.clientHeight];
    const found = loopAt(width / 2, height / 2);
    if (found >= 0) return found;
    const at = flat(width, height);
    const far = (n) => Math.hypot(at[3 * n] - width / 2, at[3 * n + 1] - height / 2) + (faces(n) > 0.15 ? 0 : 1e6);
    return mesh.ids.reduce((best, _, n) => (far(n) < far(best) ? n : best), 0);
  }

  // ---- hands on it

  function turn(across, up, zoom = 1) {
    pose.across += across;
    pose.up = Math.max(-1.5, Math.min(1.5, pose.up + up));
    pose.zoom = Math.max(0.4, Math.min(12, pose.zoom * zoom));
    draw();
  }
  function shift(x, y) {
    const { scale } = frame(canvas.clientWidth, canvas.clientHeight);
    pose.x = Math.max(-1, Math.min(1, pose.x + x / scale));
    pose.y = Math.max(-1, Math.min(1, pose.y - y / scale));
    draw();
  }
  // What lies under the pointer stays there.
  function zoomAt(x, y, zoom) {
    const before = frame(canvas.clientWidth, canvas.clientHeight).scale;
    turn(0, 0, zoom);
    const after = frame(canvas.clientWidth, canvas.clientHeight).scale;
    const [dx, dy] = [x - canvas.clientWidth / 2, y - canvas.clientHeight / 2];
    shift(dx - (dx * after) / before, dy - (dy * after) / before);
  }
  const MOVES = {
    left: () => turn(-0.2, 0), right: () => turn(0.2, 0), up: () => turn(0, -0.2), down: () => turn(0, 0.2),
    closer: () => turn(0, 0, 1.25), farther: () => turn(0, 0, 0.8), reset: () => { pose = { ...START }; draw(); },
  };
  const KEYS = { ArrowLeft: "left", ArrowRight: "right", ArrowUp: "up", ArrowDown: "down", "+": "closer", "=": "closer", "-": "farther", 0: "reset" };
  const SHIFTS = { ArrowLeft: [-40, 0], ArrowRight: [40, 0], ArrowUp: [0, -40], ArrowDown: [0, 40] };
  const STEPS = { n: "on", p: "back", u: "above", d: "below", Escape: "none" };

  canvas.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    begin(); // a key may come before the reader has scrolled here
    if (!mesh) return;
    const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
    if (event.shiftKey && SHIFTS[key]) shift(...SHIFTS[key]);
    else if (KEYS[key]) MOVES[KEYS[key]]();
    else if (STEPS[key]) step(STEPS[key]);
    else if (key === "Enter" || key === " ") pick(nearest(), { show: true });
    else return;
    event.preventDefault();
  });
  for (const button of document.querySelectorAll("[data-turn]")) button.addEventListener("click", MOVES[button.dataset.turn]);
  for (const button of document.querySelectorAll("[data-pick]")) button.addEventListener("click", () => step(button.dataset.pick));

  const fingers = new Map();
  let travelled = 0;
  const place = (event) => ({ x: event.offsetX, y: event.offsetY });
  const middle = () => { const all = [...fingers.values()]; return { x: (all[0].x + all[1].x) / 2, y: (all[0].y + all[1].y) / 2 }; };
  const spread = () => { const [a, b] = [...fingers.values()]; return Math.hypot(a.x - b.x, a.y - b.y) || 1; };
  canvas.addEventListener("pointerdown", (event) => {
    begin();
    canvas.setPointerCapture(event.pointerId);
    if (!fingers.size) travelled = 0;
    fingers.set(event.pointerId, place(event));
  });
  canvas.addEventListener("pointermove", (event) => {
    const before = fingers.get(event.pointerId);
    if (!before) return;
    const now = place(event);
    travelled += Math.hypot(now.x - before.x, now.y - before.y);
    if (fingers.size === 2) {
      const [old, was] = [spread(), middle()];
      fingers.set(event.pointerId, now);
      const to = middle();
      shift(to.x - was.x, to.y - was.y);
      zoomAt(to.x, to.y, spread() / old);
      return;
    }
    fingers.set(event.pointerId, now);
    if (event.shiftKey) shift(now.x - before.x, now.y - before.y);
    else {
      // Before a tap a finger that goes up or down means the page.
      const scrolls = event.pointerType === "touch" && document.activeElement !== canvas;
      turn((now.x - before.x) / 120, scrolls ? 0 : (now.y - before.y) / 120);
    }
  });
  canvas.addEventListener("pointerup", (event) => {
    if (mesh && fingers.size === 1 && travelled < 5) pick(loopAt(event.offsetX, event.offsetY)); // a click, no drag
    fingers.delete(event.pointerId);
  });
  canvas.addEventListener("pointercancel", (event) => fingers.delete(event.pointerId));
  canvas.addEventListener("wheel", (event) => {
    if (document.activeElement !== canvas) return; // else the page could not be scrolled past it
    event.preventDefault();
    zoomAt(event.offsetX, event.offsetY, Math.exp(-event.deltaY / 500));
  }, { passive: false });
  new ResizeObserver(draw).observe(canvas);

  const ready = {};
  let wanted = "";
  function show() {
    const shown = wanted in shapes ? wanted : Object.keys(shapes)[0];
    mesh = ready[shown] = ready[shown] || unpack(shapes[shown]);
    const named = document.getElementById("sock-name");
    named.hidden = !mesh.name;
    named.textContent = "Shown: " + mesh.name;
    canvas.setAttribute("aria-label", "The relaxed fabric in space" + (mesh.name ? ", " + mesh.name : ""));
    for (const button of document.querySelectorAll("[data-pick]")) button.hidden = !mesh.on && button.dataset.pick !== "none";
    painter.load();
    offer();
    pick(-1);
  }
  document.addEventListener("size", (event) => {
    wanted = event.detail;
    if (painter) show();
  });
  // Nothing is unpacked before the reader comes near or asks: the page above is there at once.
  function begin() {
    nearby.disconnect();
    if (painter) return;
    painter = newPainter();
    if (painter) show();
  }
  const nearby = new IntersectionObserver((entries) => {
    if (entries.some((entry) => entry.isIntersecting)) begin();
  }, { rootMargin: "400px" });
  nearby.observe(canvas);
  canvas.addEventListener("focus", begin);
  for (const button of document.querySelectorAll("[data-turn], [data-pick]")) button.addEventListener("focus", begin);
})();
