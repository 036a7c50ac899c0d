"use strict";
// Draws the relaxed sock and turns it. WebGL where there is any, a plain canvas otherwise.
(() => {
  const canvas = document.getElementById("sock");
  if (!canvas) return;
  const meshes = JSON.parse(document.getElementById("data").textContent).meshes;
  const START = { across: 0.5, up: -0.15, zoom: 1 };
  let pose = { ...START };
  let mesh = null;
  let asked = false;

  const bytes = (text) => Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0)).buffer;

  function unpack(packed) {
    const steps = new Int16Array(bytes(packed.points));
    const scale = packed.mm_per_step / packed.radius_mm;
    const points = Float32Array.from(steps, (step) => step * scale);
    const Numbers = packed.corner_bits === 16 ? Uint16Array : Uint32Array;
    const corners = Uint32Array.from(new Numbers(bytes(packed.corners)));
    return { points, corners, shade: new Uint8Array(bytes(packed.shade)), normals: normals(points, corners) };
  }

  function normals(points, corners) {
    const found = new Float32Array(points.length);
    for (let at = 0; at < corners.length; at += 3) {
      const [a, b, c] = [3 * corners[at], 3 * corners[at + 1], 3 * corners[at + 2]];
      const u = [0, 1, 2].map((axis) => points[b + axis] - points[a + axis]);
      const v = [0, 1, 2].map((axis) => points[c + axis] - points[a + axis]);
      const normal = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
      for (const corner of [a, b, c]) for (let axis = 0; axis < 3; axis++) found[corner + axis] += normal[axis];
    }
    for (let at = 0; at < found.length; at += 3) {
      const length = Math.hypot(found[at], found[at + 1], found[at + 2]) || 1;
      for (let axis = 0; axis < 3; axis++) found[at + axis] /= length;
    }
    return found;
  }

  // Column by column: first turn round the upright axis, then tip.
  function turned() {
    const [ca, sa, cu, su] = [Math.cos(pose.across), Math.sin(pose.across), Math.cos(pose.up), Math.sin(pose.up)];
    return [ca, su * sa, -cu * sa, 0, cu, su, sa, -su * ca, cu * ca];
  }

  // A scale of even steps in lightness, told apart by colour-blind eyes: blue-grey to straw.
  const SCALE = [[38, 62, 104], [92, 108, 122], [160, 154, 118], [238, 214, 110]];
  function colour(shade) {
    const place = Math.min(shade / 255, 0.9999) * (SCALE.length - 1);
    const low = Math.floor(place);
    return SCALE[low].map((value, at) => value + (place - low) * (SCALE[low + 1][at] - value));
  }

  const VERTEX = `
attribute vec3 point; attribute vec3 normal; attribute vec3 tint;
uniform mat3 pose; uniform vec2 scale;
varying vec3 way; varying vec3 hue;
void main() {
  vec3 at = pose * point; way = pose * normal; hue = tint;
  gl_Position = vec4(at.xy * scale, -at.z * 0.4, 1.0);
}`;
  const FRAGMENT = `
precision mediump float;
varying vec3 way; varying vec3 hue;
void main() {
  vec3 n = normalize(gl_FrontFacing ? way : -way);
  float light = 0.42 + 0.58 * max(dot(n, normalize(vec3(-0.35, 0.55, 0.75))), 0.0);
  gl_FragColor = vec4(hue * light * (gl_FrontFacing ? 1.0 : 0.55), 1.0);
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
    const buffers = { point: gl.createBuffer(), normal: gl.createBuffer(), tint: gl.createBuffer(), corners: gl.createBuffer() };
    return {
      load() {
        const tint = new Float32Array(mesh.points.length);
        mesh.shade.forEach((shade, at) => tint.set(colour(shade).map((value) => value / 255), 3 * at));
        for (const [name, values] of [["point", mesh.points], ["normal", mesh.normals], ["tint", tint]]) {
          gl.bindBuffer(gl.ARRAY_BUFFER, buffers[name]);
          gl.bufferData(gl.ARRAY_BUFFER, values, gl.STATIC_DRAW);
          const slot = gl.getAttribLocation(program, name);
          gl.enableVertexAttribArray(slot);
          gl.vertexAttribPointer(slot, 3, gl.FLOAT, false, 0, 0);
        }
        gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, buffers.corners);
        gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, mesh.corners, gl.STATIC_DRAW);
      },
      paint(width, height) {
        gl.viewport(0, 0, width, height);
        gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
        const least = Math.min(width, height);
        gl.uniformMatrix3fv(place("pose"), false, turned());
        gl.uniform2f(place("scale"), (pose.zoom * least) / width, (pose.zoom * least) / height);
        gl.drawElements(gl.TRIANGLES, mesh.corners.length, gl.UNSIGNED_INT, 0);
      },
    };
  }

  function planePainter(pen) {
    return {
      load() {},
      paint(width, height) {
        pen.clearRect(0, 0, width, height);
        const [m, scale, count] = [turned(), (pose.zoom * Math.min(width, height)) / 2, mesh.points.length / 3];
        const at = new Float32Array(3 * count);
        for (let n = 0; n < count; n++) for (let row = 0; row < 3; row++) {
          at[3 * n + row] = m[row] * mesh.points[3 * n] + m[3 + row] * mesh.points[3 * n + 1] + m[6 + row] * mesh.points[3 * n + 2];
        }
        const faces = [...Array(mesh.corners.length / 3).keys()].map((face) => [0, 1, 2].map((k) => mesh.corners[3 * face + k]));
        const depth = (face) => at[3 * face[0] + 2] + at[3 * face[1] + 2] + at[3 * face[2] + 2];
        for (const face of faces.sort((a, b) => depth(a) - depth(b))) {
          const [p, q, r] = face.map((n) => [width / 2 + scale * at[3 * n], height / 2 - scale * at[3 * n + 1]]);
          const front = (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]) < 0;
          pen.fillStyle = pen.strokeStyle = "rgb(" + colour(mesh.shade[face[0]]).map((v) => Math.round(v * (front ? 1 : 0.5))).join(" ") + ")";
          pen.beginPath();
          pen.moveTo(...p); pen.lineTo(...q); pen.lineTo(...r);
          pen.closePath(); pen.fill(); pen.stroke();
        }
      },
    };
  }

  const gl = canvas.getContext("webgl", { antialias: true, preserveDrawingBuffer: true });
  const painter = (gl && gl.getExtension("OES_element_index_uint") && glPainter(gl)) || (!gl && planePainter(canvas.getContext("2d")));
  if (!painter) return;

  function draw() {
    if (asked || !mesh) return;
    asked = true;
    requestAnimationFrame(() => {
      asked = false;
      const sharp = Math.min(window.devicePixelRatio || 1, 2);
      const [width, height] = [Math.round(canvas.clientWidth * sharp), Math.round(canvas.clientHeight * sharp)];
      if (!width || !height) return;
      if (canvas.width !== width || canvas.height !== height) [canvas.width, canvas.height] = [width, height];
      painter.paint(width, height);
      canvas.dataset.pose = [pose.across, pose.up, pose.zoom].map((value) => value.toFixed(3)).join(" ");
    });
  }

  function turn(across, up, zoom = 1) {
    pose.across += across;
    pose.up = Math.max(-1.5, Math.min(1.5, pose.up + up));
    pose.zoom = Math.max(0.4, Math.min(8, pose.zoom * zoom));
    draw();
  }
  const MOVES = {
    left: () => turn(-0.2, 0), right: () => turn(0.2, 0), up: () => turn(0, -0.2), down: () => turn(0, 0.2),
    closer: () => turn(0, 0, 1.25), farther: () => turn(0, 0, 0.8), reset: () => { pose = { ...START }; draw(); },
  };
  const KEYS = { ArrowLeft: "left", ArrowRight: "right", ArrowUp: "up", ArrowDown: "down", "+": "closer", "=": "closer", "-": "farther", 0: "reset" };

  canvas.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || !KEYS[event.key]) return;
    event.preventDefault();
    MOVES[KEYS[event.key]]();
  });
  for (const button of document.querySelectorAll("[data-turn]")) button.addEventListener("click", MOVES[button.dataset.turn]);

  const fingers = new Map();
  const spread = () => { const [a, b] = [...fingers.values()]; return Math.hypot(a.x - b.x, a.y - b.y) || 1; };
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
  });
  canvas.addEventListener("pointermove", (event) => {
    const before = fingers.get(event.pointerId);
    if (!before) return;
    const now = { x: event.clientX, y: event.clientY };
    if (fingers.size === 2) {
      const old = spread();
      fingers.set(event.pointerId, now);
      turn(0, 0, spread() / old);
      return;
    }
    fingers.set(event.pointerId, now);
    turn((now.x - before.x) / 120, (now.y - before.y) / 120);
  });
  for (const kind of ["pointerup", "pointercancel"]) canvas.addEventListener(kind, (event) => fingers.delete(event.pointerId));
  canvas.addEventListener("wheel", (event) => {
    if (document.activeElement !== canvas) return; // else the page could not be scrolled past it
    event.preventDefault();
    turn(0, 0, Math.exp(-event.deltaY / 500));
  }, { passive: false });
  new ResizeObserver(draw).observe(canvas);

  document.addEventListener("size", (event) => {
    const key = event.detail in meshes ? event.detail : Object.keys(meshes)[0];
    mesh = unpack(meshes[key].mesh);
    painter.load();
    document.getElementById("shape-size").textContent = meshes[key].name;
    draw();
  });
})();
