/* Turns a project's stages in the page. It owns the viewer and undoes the packing of figures/solid/pack.py.
   A classic script: it works from a disk, under a strict content policy, and loads a solid only when asked.
     <figure class="hb-solid" data-hb-solid="NAME" data-hb-src="NAME-solid.js"><img …>
       <button type="button" class="hb-solid__open" hidden>Turn it in 3D</button>
       <p class="hb-solid__note" role="status"></p></figure>
   Nothing moves by itself: it draws when something has changed. */
(() => {
  "use strict";

  const FORM = 1, SHARP = Math.cos(25 * Math.PI / 180), FLAT = 0.99999, TURN = Math.PI / 18;
  /** @type {Solid.Course[]} What is not glued up. */
  const PLAIN = [[1, 0, ["tan"]]];
  const SORRY = tr("3D cannot be shown here. The still picture stays.");
  /* The most that is shown of what is let into a piece; what comes after them looks like the wood around it. */
  const ROUNDS = 12, TONES = ["pale", "tan", "red", "brown", "dark"], AROUND = 1024, ALONG = 512;
  const SOLID_V = "attribute vec3 p,n;uniform float push;uniform mat3 turn;uniform vec3 mid,size;uniform vec4 grown;uniform mat3 back,lies;uniform vec3 left;varying vec3 face,own,spot,square;" +
    /* Wood that has dried is looked at as large as it grew. */
    "void main(){vec3 v=turn*(p-mid);face=turn*n;spot=(p-left)*lies;square=n*lies;own=grown.w>0.?back*(p-grown.xyz)/grown.w:vec3(0.);gl_Position=vec4(v*size+vec3(0.,0.,push),1.);}";
  const SOLID_F = "#ifdef GL_FRAGMENT_PRECISION_HIGH\nprecision highp float;\n#else\nprecision mediump float;\n#endif\n" +
    "varying vec3 face,own,spot,square;uniform vec3 low,plain,high,bark,along,glue,woods[15];uniform vec4 veil,rounds[36];uniform float every,tall,thin;uniform sampler2D pieces;" +
    /* Of a point in a glued-up blank the tone of its wood, and the number of its piece. */
    "vec2 piece(vec3 s){" +
    "for(int i=0;i<12;i++){vec4 a=rounds[3*i],b=rounds[3*i+1],c=rounds[3*i+2];vec3 q=s-a.xyz;float l=dot(q,b.xyz);" +
    "if(c.w>0.&&l>=c.y-.01&&l<=c.z&&length(q-l*b.xyz)<=(l<0.?c.x:b.w))return vec2(a.w,-1.-float(i));}" +
    "float a=atan(s.y,s.x)/6.2831853;return floor(texture2D(pieces,vec2(a-floor(a),s.z/tall)).ra*255.+.5);}" +
    "void main(){vec3 n=normalize(face);" +
    "float t=.08+.74*clamp((dot(n,normalize(vec3(-.42,.72,.55)))+.35)/1.35,0.,1.)+.22*max(dot(n,normalize(vec3(.75,-.15,.65))),0.);" +
    "vec3 x=low,y=plain,z=high;vec2 f=vec2(0.);" +
    "if(tall>0.){f=piece(spot);for(int i=0;i<5;i++)if(f.x==float(i)){x=woods[3*i];y=woods[3*i+1];z=woods[3*i+2];}}" +
    "vec3 c=t<.55?mix(x,y,t/.55):mix(y,z,min((t-.55)/.45,1.));" +
    /* Between two pieces runs a glue line: looked for along the face, around and across. */
    "if(tall>0.){vec3 a=cross(square,vec3(0.,0.,1.));a=normalize(length(a)>.01?a:cross(square,vec3(1.,0.,0.)));" +
    "if(piece(spot+thin*a).y!=f.y||piece(spot+thin*normalize(cross(square,a))).y!=f.y)c=glue;}" +
    /* Under its bark a log or branch is 1 across from its middle; what is further out is bark. */
    "if(length(own-along*dot(own,along))>1.)c=bark*(.55+.6*t);" +
    "if(veil.a>0.){float d=mod(gl_FragCoord.x-gl_FragCoord.y,every)/every;" +
    "gl_FragColor=vec4(veil.rgb,d<.18?.8:veil.a);}else gl_FragColor=vec4(c,1.);}";
  const LINE_V = "attribute vec3 a,b,m,n;attribute vec2 s;uniform mat3 turn;uniform vec3 mid,size;uniform vec2 half_px;uniform float wide,push;" +
    "void main(){if((turn*m).z*(turn*n).z>0.){gl_Position=vec4(2.,2.,2.,1.);return;}" +
    "vec3 u=turn*(a-mid)*size,v=turn*(b-mid)*size;vec2 d=(v.xy-u.xy)*half_px;float l=length(d);" +
    "d=l>0.?d/l:vec2(1.,0.);vec2 o=(vec2(-d.y,d.x)*s.y+d*(s.x*2.-1.)*.5)*wide*.5;" +
    "vec3 q=mix(u,v,s.x);gl_Position=vec4(q.xy+o/half_px,q.z+push,1.);}";
  const LINE_F = "precision mediump float;uniform vec4 ink;void main(){gl_FragColor=ink;}";

  /** @typedef {Solid.Point} Point */
  /** @typedef {Solid.Mesh} Mesh */
  /** @typedef {Solid.Piece} Piece */
  /** @typedef {Solid.Look} Look */
  /** @typedef {Solid.View} View */

  /** @type {Map<string, (piece: Promise<Piece>) => void>} */
  const waiting = new Map();
  /** @type {Map<string, Promise<Piece>>} */
  const arrived = new Map();

  /* ---- Packing ---- */

  /** @type {(payload: Solid.Packed, glued: Solid.Glued | undefined) => Solid.Woods | undefined} */
  const woodsOf = ({ stacks }, glued) => glued && { courses: stacks[glued.stack], lies: glued.lies, rounds: glued.rounds };

  /**
   * One stage out of the stream, and where the next one begins.
   * @type {(payload: Solid.Packed, stage: Solid.Stage, data: Uint8Array, from: number) => [mesh: Mesh, end: number]}
   */
  const stageOf = (payload, { name, points, triangles, glued, grown = Array(16).fill(0) }, data, from) => {
    const spots = new Float32Array(points * 3), corners = new Uint32Array(triangles * 3), many = corners.length;
    let at = from;
    for (let axis = 0; axis < 3; axis++) {
      for (let each = 0, value = 0; each < points; each++) {
        const code = data[at + each] | data[at + points + each] << 8;
        value += code & 1 ? -(code + 1) / 2 : code / 2;
        spots[each * 3 + axis] = payload.low[axis] + value * payload.step;
      }
      at += 2 * points;
    }
    for (let each = 0, fresh = 0; each < many; each++) {
      const corner = fresh - (data[at + each] | data[at + many + each] << 8 | data[at + 2 * many + each] << 16);
      if (corner === fresh) fresh++;
      corners[each] = corner;
    }
    return [{ name, spots, corners, grown, glued: woodsOf(payload, glued) }, at + 3 * many];
  };

  /** @type {(payload: Solid.Packed) => Promise<Piece>} */
  const unpacked = async (payload) => {
    if (payload.form !== FORM) throw new Error("another form of packing");
    const bytes = Uint8Array.from(atob(payload.data), (sign) => sign.charCodeAt(0));
    const plain = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate"));
    const data = new Uint8Array(await new Response(plain).arrayBuffer());
    /** @type {Mesh[]} */
    const stages = [];
    let at = 0;
    for (const stage of payload.stages) {
      if (stage.as !== undefined) {
        stages.push({ ...stages[stage.as], name: stage.name, glued: woodsOf(payload, stage.glued) });
        continue;
      }
      const [mesh, end] = stageOf(payload, stage, data, at);
      stages.push(mesh);
      at = end;
    }
    return { ...payload, stages };
  };

  /* ---- Reading a mesh: soft normals, sharp edges, and edges that may be an outline ---- */

  /** @param {Mesh} mesh */
  const read = ({ spots, corners }) => {
    const faces = corners.length / 3, points = spots.length / 3;
    const across = new Float32Array(corners.length), unit = new Float32Array(corners.length);
    /** @type {number[][]} The faces around each point. */
    const around = Array.from({ length: points }, () => []);
    for (let face = 0; face < faces; face++) {
      const a = corners[3 * face] * 3, b = corners[3 * face + 1] * 3, c = corners[3 * face + 2] * 3;
      const ux = spots[b] - spots[a], uy = spots[b + 1] - spots[a + 1], uz = spots[b + 2] - spots[a + 2];
      const vx = spots[c] - spots[a], vy = spots[c + 1] - spots[a + 1], vz = spots[c + 2] - spots[a + 2];
      const x = uy * vz - uz * vy, y = uz * vx - ux * vz, z = ux * vy - uy * vx, long = Math.hypot(x, y, z) || 1;
      across.set([x, y, z], 3 * face);
      unit.set([x / long, y / long, z / long], 3 * face);
      for (let corner = 0; corner < 3; corner++) around[corners[3 * face + corner]].push(face);
    }
    /** @type {(one: number, other: number) => number} The cosine between two faces. */
    const alike = (one, other) =>
      unit[3 * one] * unit[3 * other] + unit[3 * one + 1] * unit[3 * other + 1] + unit[3 * one + 2] * unit[3 * other + 2];
    /** @type {(face: number, at: number) => Point} The normal at a corner: of the faces around it that meet softly. */
    const normal = (face, at) => {
      let x = 0, y = 0, z = 0;
      for (const other of around[at]) {
        if (alike(face, other) < SHARP) continue;
        x += across[3 * other];
        y += across[3 * other + 1];
        z += across[3 * other + 2];
      }
      const long = Math.hypot(x, y, z) || 1;
      return [x / long, y / long, z / long];
    };
    /** @type {(at: number) => Float32Array} */
    const spot = (at) => spots.subarray(3 * at, 3 * at + 3);
    const solid = new Float32Array(corners.length * 6);
    /** @type {Map<number, number>} The face on the one side of an edge. */
    const edges = new Map();
    /** @type {number[]} */
    const lines = [];
    for (let face = 0; face < faces; face++) {
      for (let corner = 0; corner < 3; corner++) {
        const at = corners[3 * face + corner], to = corners[3 * face + (corner + 1) % 3];
        solid.set([...spot(at), ...normal(face, at)], (3 * face + corner) * 6);
        const edge = Math.min(at, to) * points + Math.max(at, to), other = edges.get(edge);
        if (other === undefined) {
          edges.set(edge, face);
          continue;
        }
        const turn = alike(face, other);
        if (turn > FLAT) continue;
        const sides = turn < SHARP ? [0, 0, 0, 0, 0, 0] : [...unit.subarray(3 * face, 3 * face + 3), ...unit.subarray(3 * other, 3 * other + 3)];
        for (const end of [[0, -1], [0, 1], [1, -1], [1, -1], [0, 1], [1, 1]]) lines.push(...spot(at), ...spot(to), ...sides, ...end);
      }
    }
    return { solid, lines: new Float32Array(lines) };
  };

  /* ---- Drawing ---- */

  /** @typedef {{ made: WebGLProgram, at: (name: string) => WebGLUniformLocation | null }} Program */
  /** @typedef {{ solid: WebGLBuffer, corners: number, lines: WebGLBuffer, ends: number }} Held */

  class Painter {
    /** @param {WebGLRenderingContext} gl @param {Mesh[]} stages */
    constructor(gl, stages) {
      this.gl = gl;
      this.stages = stages;
      /** @type {Held[]} */
      this.held = [];
      /** @type {Map<Solid.Course[], WebGLTexture>} */
      this.maps = new Map();
      this.solid = this.program(SOLID_V, SOLID_F, ["p", "n"]);
      this.line = this.program(LINE_V, LINE_F, ["a", "b", "m", "n", "s"]);
    }

    /** Other stages in the place of those that there were. @param {Mesh[]} stages */
    give(stages) {
      for (const held of Object.values(this.held)) {
        this.gl.deleteBuffer(held.solid);
        this.gl.deleteBuffer(held.lines);
      }
      for (const map of this.maps.values()) this.gl.deleteTexture(map);
      this.maps.clear();
      this.held = [];
      this.stages = stages;
    }

    /* All over again, when the browser has taken the picture away and given it back. */
    restart() {
      this.held = [];
      this.maps.clear();
      this.solid = this.program(SOLID_V, SOLID_F, ["p", "n"]);
      this.line = this.program(LINE_V, LINE_F, ["a", "b", "m", "n", "s"]);
    }

    /** @param {string} vertex @param {string} fragment @param {string[]} names @returns {Program} */
    program(vertex, fragment, names) {
      const { gl } = this, made = gl.createProgram();
      for (const [kind, source] of /** @type {[number, string][]} */ ([[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]])) {
        const shader = gl.createShader(kind);
        /* There is none while the context is lost; what is drawn then is nothing. */
        if (!shader) continue;
        gl.shaderSource(shader, source);
        gl.compileShader(shader);
        gl.attachShader(made, shader);
      }
      names.forEach((name, place) => gl.bindAttribLocation(made, place, name));
      gl.linkProgram(made);
      if (!gl.getProgramParameter(made, gl.LINK_STATUS) && !gl.isContextLost()) throw new Error("no program");
      return { made, at: (name) => gl.getUniformLocation(made, name) };
    }

    /** @param {Float32Array} array */
    buffer(array) {
      const { gl } = this, made = gl.createBuffer();
      gl.bindBuffer(gl.ARRAY_BUFFER, made);
      gl.bufferData(gl.ARRAY_BUFFER, array, gl.STATIC_DRAW);
      return made;
    }

    /* A glued-up blank unrolled: around it, and along its axis, the tone of each piece and its number. */
    /** @param {Solid.Course[]} courses */
    map(courses) {
      const { gl } = this, there = this.maps.get(courses);
      if (there) {
        gl.bindTexture(gl.TEXTURE_2D, there);
        return;
      }
      const data = new Uint8Array(AROUND * ALONG * 2), [tall] = courses[courses.length - 1], made = gl.createTexture();
      for (let row = 0; row < ALONG; row++) {
        const place = (row + 0.5) / ALONG * tall, number = Math.max(0, courses.findIndex(([end]) => place < end)), [, turn, tones] = courses[number];
        for (let column = 0; column < AROUND; column++) {
          const around = ((column + 0.5) / AROUND * 360 - turn) % 360, piece = Math.floor((around + 360) % 360 * tones.length / 360);
          /* Two numbers for neighbors around and along are never one. */
          data.set([TONES.indexOf(tones[piece]), (number * 37 + piece) % 256], 2 * (row * AROUND + column));
        }
      }
      gl.bindTexture(gl.TEXTURE_2D, made);
      gl.pixelStorei(gl.UNPACK_ALIGNMENT, 1);
      gl.texImage2D(gl.TEXTURE_2D, 0, gl.LUMINANCE_ALPHA, AROUND, ALONG, 0, gl.LUMINANCE_ALPHA, gl.UNSIGNED_BYTE, data);
      for (const kind of [gl.TEXTURE_MIN_FILTER, gl.TEXTURE_MAG_FILTER]) gl.texParameteri(gl.TEXTURE_2D, kind, gl.NEAREST);
      gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_WRAP_S, gl.REPEAT);
      gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_WRAP_T, gl.CLAMP_TO_EDGE);
      if (made) this.maps.set(courses, made);
    }

    /** The woods of what is drawn next; of one wood, none. @param {Solid.Woods | undefined} glued @param {View} view @param {Look} look */
    woods(glued, view, look) {
      const { gl, solid } = this, courses = glued?.courses ?? PLAIN, [x, y, z, ...frame] = glued?.lies ?? Array(12).fill(0);
      this.map(courses);
      gl.uniform1f(solid.at("tall"), glued ? courses[courses.length - 1][0] : 0);
      gl.uniform3f(solid.at("left"), x, y, z);
      gl.uniformMatrix3fv(solid.at("lies"), false, frame);
      gl.uniform3fv(solid.at("woods"), look.woods);
      gl.uniform3fv(solid.at("glue"), look.glue);
      /* In millimeters, what is 1.2 pixels wide where it is looked at straight. */
      gl.uniform1f(solid.at("thin"), 2.4 * view.dense / (view.size[0] * gl.canvas.width));
      const rounds = new Float32Array(12 * ROUNDS);
      for (const [at, [a, b, c, i, j, k, radius, outer, start, end, tone]] of (glued?.rounds ?? []).slice(0, ROUNDS).entries()) {
        rounds.set([a, b, c, TONES.indexOf(tone), i, j, k, radius, outer, start, end, 1], 12 * at);
      }
      gl.uniform4fv(solid.at("rounds"), rounds);
    }

    /** @param {number} number */
    stage(number) {
      if (!this.held[number]) {
        const { solid, lines } = read(this.stages[number]);
        this.held[number] = { solid: this.buffer(solid), corners: solid.length / 6, lines: this.buffer(lines), ends: lines.length / 14 };
      }
      return this.held[number];
    }

    /** @param {Program} program @param {WebGLBuffer} data @param {number[]} sizes @param {View} view @param {number} push */
    use(program, data, sizes, view, push) {
      const { gl } = this, stride = 4 * sizes.reduce((sum, size) => sum + size, 0);
      gl.useProgram(program.made);
      gl.bindBuffer(gl.ARRAY_BUFFER, data);
      for (let place = 0, offset = 0; place < 5; place++) {
        if (place < sizes.length) {
          gl.enableVertexAttribArray(place);
          gl.vertexAttribPointer(place, sizes[place], gl.FLOAT, false, stride, offset);
          offset += sizes[place] * 4;
        } else gl.disableVertexAttribArray(place);
      }
      gl.uniformMatrix3fv(program.at("turn"), false, view.turn);
      gl.uniform3fv(program.at("mid"), view.mid);
      gl.uniform3fv(program.at("size"), view.size);
      gl.uniform1f(program.at("push"), push);
    }

    /** @param {Held} held @param {number[]} color @param {View} view @param {number} push */
    edges(held, color, view, push) {
      const { gl, line } = this;
      this.use(line, held.lines, [3, 3, 3, 3, 2], view, push);
      gl.uniform2f(line.at("half_px"), gl.canvas.width / 2, gl.canvas.height / 2);
      gl.uniform1f(line.at("wide"), 1.7 * view.dense);
      gl.uniform4f(line.at("ink"), color[0], color[1], color[2], 1);
      gl.drawArrays(gl.TRIANGLES, 0, held.ends);
    }

    /** @param {number} number @param {View} view @param {Look} look @param {boolean} ghost */
    draw(number, view, look, ghost) {
      const { gl, solid } = this;
      if (gl.isContextLost()) return;
      const here = this.stage(number);
      gl.viewport(0, 0, gl.canvas.width, gl.canvas.height);
      gl.clearColor(0, 0, 0, 0);
      gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
      gl.enable(gl.DEPTH_TEST);
      gl.depthFunc(gl.LEQUAL);
      gl.enable(gl.CULL_FACE);
      gl.disable(gl.BLEND);
      gl.enable(gl.POLYGON_OFFSET_FILL);
      gl.polygonOffset(1, 1);
      this.use(solid, here.solid, [3, 3], view, 0);
      gl.uniform3fv(solid.at("low"), look.shade);
      gl.uniform3fv(solid.at("plain"), look.wood);
      gl.uniform3fv(solid.at("high"), look.light);
      const [x, y, z, right, up, toward, under, ...back] = this.stages[number].grown;
      gl.uniform3fv(solid.at("bark"), look.bark);
      gl.uniform4f(solid.at("grown"), x, y, z, under);
      gl.uniformMatrix3fv(solid.at("back"), false, back);
      gl.uniform3f(solid.at("along"), right, up, toward);
      gl.uniform1f(solid.at("every"), 9 * view.dense);
      gl.uniform4f(solid.at("veil"), 0, 0, 0, 0);
      this.woods(this.stages[number].glued, view, look);
      gl.drawArrays(gl.TRIANGLES, 0, here.corners);
      gl.disable(gl.CULL_FACE);
      this.edges(here, look.ink, view, -0.004);
      if (!ghost) return;
      /* The stage before, behind what has stayed: what is left to see of it is what this step takes away. */
      const before = this.stage(number - 1), [red, green, blue] = look.accent;
      gl.enable(gl.CULL_FACE);
      gl.enable(gl.BLEND);
      gl.blendFuncSeparate(gl.SRC_ALPHA, gl.ONE_MINUS_SRC_ALPHA, gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
      this.use(solid, before.solid, [3, 3], view, 0.003);
      gl.uniform4f(solid.at("veil"), red, green, blue, 0.3);
      gl.colorMask(false, false, false, false);
      gl.drawArrays(gl.TRIANGLES, 0, before.corners);
      gl.colorMask(true, true, true, true);
      gl.depthFunc(gl.EQUAL);
      gl.drawArrays(gl.TRIANGLES, 0, before.corners);
      gl.depthFunc(gl.LESS);
      gl.disable(gl.CULL_FACE);
      this.edges(before, look.accent, view, 0.002);
    }
  }

  /* ---- Where one looks from ---- */

  /** @type {(one: Point, other: Point) => number} */
  const dot = (one, other) => one[0] * other[0] + one[1] * other[1] + one[2] * other[2];
  /** @type {(one: Point, other: Point) => Point} */
  const cross = (one, other) =>
    [one[1] * other[2] - one[2] * other[1], one[2] * other[0] - one[0] * other[2], one[0] * other[1] - one[1] * other[0]];
  /** @type {(a: number, one: Point, b: number, other: Point) => Point} a times one and b times other, together. */
  const sum = (a, one, b, other) => [a * one[0] + b * other[0], a * one[1] + b * other[1], a * one[2] + b * other[2]];
  /** @type {(one: Point) => Point} */
  const unit = (one) => sum(1 / Math.hypot(...one), one, 0, one);
  /** @type {(x: number, least: number, most: number) => number} */
  const within = (x, least, most) => Math.max(least, Math.min(most, x));

  class Camera {
    /** @param {Solid.Packed | Piece} piece */
    constructor({ low, high, up, toward }) {
      this.pole = unit(up);
      this.side = unit(cross(this.pole, toward));
      this.front = cross(this.side, this.pole);
      this.rise = Math.asin(dot(unit(toward), this.pole));
      this.mid = sum(0.5, low, 0.5, high);
      this.reach = Math.hypot(...sum(1, high, -1, this.mid)) || 1;
      this.yaw = this.tilt = 0;
      this.zoom = 1;
    }
    /** @param {number} right @param {number} down In turns of an arrow key. */
    turn(right, down) {
      this.yaw += right * TURN;
      this.tilt = within(this.tilt + down * TURN, -1.55 - this.rise, 1.55 - this.rise);
    }
    /** @param {number} by */
    scale(by) {
      this.zoom = within(this.zoom * by, 0.6, 8);
    }
    reset() {
      this.yaw = this.tilt = 0;
      this.zoom = 1;
    }
    /** @param {number} wide @param {number} tall @param {number} dense @returns {View} */
    view(wide, tall, dense) {
      const { pole, side, front, mid, reach, yaw } = this, high = this.rise + this.tilt;
      const flat = sum(Math.cos(yaw), front, -Math.sin(yaw), side), toward = sum(Math.cos(high), flat, Math.sin(high), pole);
      const across = cross(pole, flat), above = cross(toward, across), per = this.zoom / reach / 1.02, short = Math.min(wide, tall);
      return {
        turn: new Float32Array([0, 1, 2].flatMap((axis) => [across[axis], above[axis], toward[axis]])),
        mid, size: [per * short / wide, per * short / tall, -0.5 / reach], dense
      };
    }
  }

  /* ---- Turning it, by keys and by hand ---- */

  /** @type {(camera: Solid.Camera, ask: () => void) => Record<"left" | "right" | "up" | "down" | "nearer" | "farther" | "reset", () => void>} */
  const ways = (camera, ask) => {
    /** @type {(act: () => void) => () => void} */
    const moved = (act) => () => { act(); ask(); };
    return {
      left: moved(() => camera.turn(-1, 0)), right: moved(() => camera.turn(1, 0)),
      up: moved(() => camera.turn(0, -1)), down: moved(() => camera.turn(0, 1)),
      nearer: moved(() => camera.scale(1.25)), farther: moved(() => camera.scale(0.8)), reset: moved(() => camera.reset())
    };
  };

  /** @type {(canvas: HTMLCanvasElement, camera: Solid.Camera, ask: () => void, more: [key: string, act: () => void][]) => void} */
  const steered = (canvas, camera, ask, more) => {
    const { left, right, up, down, nearer, farther, reset } = ways(camera, ask);
    const keys = new Map([
      ["ArrowLeft", left], ["ArrowRight", right], ["ArrowUp", up], ["ArrowDown", down],
      ["+", nearer], ["=", nearer], ["-", farther], ["Home", reset], ...more
    ]);
    canvas.addEventListener("keydown", (event) => {
      const act = keys.get(event.key);
      if (event.ctrlKey || event.metaKey || event.altKey || !act) return;
      event.preventDefault();
      event.stopPropagation();
      act();
    });
    /* One finger or the mouse turns; two fingers zoom. Up and down, a finger moves the page. */
    /** @type {Map<number, { x: number, y: number }>} */
    const touched = new Map();
    const apart = () => {
      const [one, other] = touched.values();
      return Math.hypot(one.x - other.x, one.y - other.y) || 1;
    };
    canvas.addEventListener("pointerdown", (event) => {
      canvas.setPointerCapture(event.pointerId);
      touched.set(event.pointerId, { x: event.clientX, y: event.clientY });
    });
    canvas.addEventListener("pointermove", (event) => {
      const was = touched.get(event.pointerId);
      if (!was) return;
      const span = touched.size === 2 ? apart() : 0, x = event.clientX - was.x, y = event.clientY - was.y;
      was.x = event.clientX;
      was.y = event.clientY;
      if (span) camera.scale(apart() / span);
      else camera.turn(x / 20, y / 20);
      ask();
    });
    for (const end of /** @type {const} */ (["pointerup", "pointercancel"])) canvas.addEventListener(end, (event) => { touched.delete(event.pointerId); });
    canvas.addEventListener("wheel", (event) => {
      if (document.activeElement !== canvas) return;
      event.preventDefault();
      camera.scale(Math.exp(-event.deltaY / 500));
      ask();
    }, { passive: false });
  };

  /* ---- The viewer ---- */

  /** @type {<Tag extends keyof HTMLElementTagNameMap>(tag: Tag, kind: string, words?: string, attributes?: Record<string, string>) => HTMLElementTagNameMap[Tag]} */
  const make = (tag, kind, words = "", attributes = {}) => {
    const made = document.createElement(tag);
    if (kind) made.className = "hb-solid__" + kind;
    if (words) made.textContent = words;
    for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
    return made;
  };
  /** @type {(words: string, run: () => void, name?: string) => HTMLButtonElement} */
  const button = (words, run, name) => {
    const made = make("button", "", words, { type: "button", ...(name ? { "aria-label": name } : {}) });
    made.addEventListener("click", run);
    return made;
  };
  /** @type {(name: string, inside: Node[]) => HTMLElement} */
  const group = (name, inside) => {
    const made = make("div", "group", "", { role: "group", "aria-label": name });
    made.append(...inside);
    return made;
  };
  /** @type {(probe: HTMLElement) => Look} The page's colors, from 0 to 1. */
  const colors = (probe) => {
    /** @param {string} name */
    const color = (name) => {
      probe.style.color = "var(--hb-solid-" + name + ")";
      const said = getComputedStyle(probe).color, parts = Array.from(said.matchAll(/[\d.]+/g), ([part]) => Number(part)).slice(0, 3);
      return said.startsWith("color(") ? parts : parts.map((part) => part / 255);
    };
    const woods = TONES.flatMap((tone) => ["shade", "wood", "light"].flatMap((light) => color(tone + "-" + light)));
    return { shade: color("shade"), wood: color("wood"), light: color("light"), bark: color("bark"), ink: color("ink"), accent: color("accent"), glue: color("glue"), woods };
  };

  /** @typedef {{ figure: HTMLElement, open: HTMLElement, note: HTMLElement, name: string }} Place */

  /** @type {(place: Place, piece: Piece) => void} */
  const view = ({ figure, open, note, name }, piece) => {
    const stills = figure.querySelectorAll("img"), last = piece.stages.length - 1, camera = new Camera(piece);
    const canvas = make("canvas", "canvas", "", { tabindex: "0", role: "img" }), box = make("div", "view"), probe = make("span", "probe");
    const gl = canvas.getContext("webgl", { antialias: true, alpha: true, premultipliedAlpha: false });
    if (!gl) {
      note.textContent = SORRY;
      open.hidden = true;
      return;
    }
    const painter = new Painter(gl, piece.stages);
    let number = last, pending = false;
    /** @type {Look | null} */
    let look = null;

    const help = make("p", "help", tr("Drag it or use the arrow keys to turn it; + and − to zoom; [ and ] or Page Up and Page Down for steps; Home for the first view."));
    const says = make("p", "says", "", { "aria-live": "polite" });
    const takes = make("input", "", "", { type: "checkbox" });
    const label = make("label", "takes");
    label.append(takes, " " + tr("Show what this step takes away"));

    const draw = () => {
      pending = false;
      if (!canvas.isConnected) return;
      const dense = Math.min(window.devicePixelRatio || 1, 2);
      const wide = Math.max(1, Math.round(canvas.clientWidth * dense)), tall = Math.max(1, Math.round(canvas.clientHeight * dense));
      if (canvas.width !== wide || canvas.height !== tall) {
        canvas.width = wide;
        canvas.height = tall;
      }
      look ??= colors(probe);
      painter.draw(number, camera.view(wide, tall, dense), look, takes.checked && number > 0);
    };
    const ask = () => {
      if (!pending) requestAnimationFrame(draw);
      pending = true;
    };
    /** @param {number} to */
    const go = (to) => {
      number = within(to, 0, last);
      /* A button that switches itself off would lose the focus to nowhere. */
      back.setAttribute("aria-disabled", String(number === 0));
      next.setAttribute("aria-disabled", String(number === last));
      says.textContent = tr("Step {number} of {count}: {step}").replace("{number}", String(number + 1)).replace("{count}", String(last + 1)).replace("{step}", () => piece.stages[number].name);
      canvas.setAttribute("aria-label", tr("{piece}, in 3D.").replace("{piece}", () => piece.title) + " " + says.textContent);
      ask();
    };
    const before = () => go(number - 1), after = () => go(number + 1);
    const { left, right, up, down, nearer, farther, reset } = ways(camera, ask);
    const back = button(tr("Previous step"), before), next = button(tr("Next step"), after);

    /* There may be one still for light pages and one for dark. */
    /** @param {boolean} on */
    const swap = (on) => {
      for (const still of stills) still.hidden = on;
      open.hidden = on;
    };
    const recolor = () => { look = null; ask(); };
    const sized = new ResizeObserver(ask), schemed = new MutationObserver(recolor), dark = matchMedia("(prefers-color-scheme: dark)");
    const close = () => {
      sized.disconnect();
      schemed.disconnect();
      dark.removeEventListener("change", recolor);
      box.remove();
      gl.getExtension("WEBGL_lose_context")?.loseContext();
      swap(false);
      open.focus();
    };

    help.id = "hb-solid-help-" + name;
    canvas.setAttribute("aria-describedby", help.id);
    box.append(canvas, says, group("Steps", [back, next, label]), group("View", [
      button("←", left, tr("Turn to the left")), button("→", right, tr("Turn to the right")), button("↑", up, tr("Tilt up")), button("↓", down, tr("Tilt down")),
      button("+", nearer, tr("Zoom in")), button("−", farther, tr("Zoom out")),
      button(tr("First view"), reset), button(tr("Back to the still"), close)
    ]), help, probe);

    steered(canvas, camera, ask, [["[", before], ["]", after], ["PageUp", before], ["PageDown", after]]);
    takes.addEventListener("change", ask);
    canvas.addEventListener("webglcontextlost", (event) => {
      event.preventDefault();
      if (canvas.isConnected) note.textContent = tr("The 3D picture was lost; it comes back by itself.");
    });
    canvas.addEventListener("webglcontextrestored", () => {
      note.textContent = "";
      painter.restart();
      ask();
    });
    /* Which attribute a page's theme changes with its colors is not ours to know. */
    for (const element of [document.documentElement, document.body]) schemed.observe(element, { attributes: true });
    dark.addEventListener("change", recolor);

    note.textContent = "";
    swap(true);
    figure.insertBefore(box, note);
    sized.observe(canvas);
    go(last);
    canvas.focus();
  };

  /* ---- Asking for it ---- */

  /** @param {HTMLElement} figure */
  const ready = (figure) => {
    if (figure.hasAttribute("data-hb-ready")) return;
    figure.setAttribute("data-hb-ready", "");
    const open = figure.querySelector(".hb-solid__open"), note = figure.querySelector(".hb-solid__note");
    if (!(open instanceof HTMLElement) || !(note instanceof HTMLElement)) return;
    const { hbSolid: name = "", hbSrc: source = "" } = figure.dataset;
    const fail = () => {
      note.textContent = SORRY;
      open.removeAttribute("aria-busy");
    };
    /** @param {Promise<Piece>} arriving */
    const show = async (arriving) => {
      try {
        const piece = await arriving;
        open.removeAttribute("aria-busy");
        view({ figure, open, note, name }, piece);
      } catch { fail(); }
    };
    open.hidden = false;
    open.addEventListener("click", () => {
      if (open.getAttribute("aria-busy")) return;
      open.setAttribute("aria-busy", "true");
      note.textContent = tr("Loading …");
      const there = arrived.get(name);
      if (there) {
        void show(there);
        return;
      }
      waiting.set(name, show);
      const script = document.createElement("script");
      script.src = source;
      script.addEventListener("error", fail);
      document.head.append(script);
    });
  };
  const start = () => { for (const figure of document.querySelectorAll("[data-hb-solid]")) if (figure instanceof HTMLElement) ready(figure); };

  window.HandoutsSolid = {
    unpacked, Painter, Camera, colors, steered,
    receive: (name, payload) => {
      const piece = unpacked(payload), show = waiting.get(name);
      arrived.set(name, piece);
      if (show) show(piece);
    }
  };
  if (window.document$) window.document$.subscribe(start);
  else if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
  else start();
})();
