/* Turns a project's stages in the page. It owns the viewer and undoes the packing of figures/solids_pack.py.
   A classic script: it works from a disk, under a strict content policy, and loads a solid only when asked.
     <figure class="hb-solid" data-hb-solid="NAME" data-hb-src="NAME-solid.js"><img …>
       <button type="button" class="hb-solid__open" hidden>Turn it in 3D</button>
       <p class="hb-solid__note" role="status"></p></figure>
   Nothing moves by itself: it draws when something has changed. */
(function () {
  "use strict";
  var FORM = 1, SHARP = Math.cos(25 * Math.PI / 180), TURN = Math.PI / 18;
  var waiting = {}, arrived = {};
  var SOLID_V = "attribute vec3 p,n;uniform float push;uniform mat3 turn;uniform vec3 mid,size;varying vec3 face;" +
    "void main(){vec3 v=turn*(p-mid);face=turn*n;gl_Position=vec4(v*size+vec3(0.,0.,push),1.);}";
  var SOLID_F = "precision mediump float;varying vec3 face;uniform vec3 low,plain,high;uniform vec4 veil;uniform float every;" +
    "void main(){vec3 n=normalize(face);" +
    "float t=.08+.74*clamp((dot(n,normalize(vec3(-.42,.72,.55)))+.35)/1.35,0.,1.)+.22*max(dot(n,normalize(vec3(.75,-.15,.65))),0.);" +
    "vec3 c=t<.55?mix(low,plain,t/.55):mix(plain,high,min((t-.55)/.45,1.));" +
    "if(veil.a>0.){float d=mod(gl_FragCoord.x-gl_FragCoord.y,every)/every;" +
    "gl_FragColor=vec4(veil.rgb,d<.18?.8:veil.a);}else gl_FragColor=vec4(c,1.);}";
  var LINE_V = "attribute vec3 a,b,m,n;attribute vec2 s;uniform mat3 turn;uniform vec3 mid,size;uniform vec2 half_px;uniform float wide,push;" +
    "void main(){if((turn*m).z*(turn*n).z>0.){gl_Position=vec4(2.,2.,2.,1.);return;}" +
    "vec3 u=turn*(a-mid)*size,v=turn*(b-mid)*size;vec2 d=(v.xy-u.xy)*half_px;float l=length(d);" +
    "d=l>0.?d/l:vec2(1.,0.);vec2 o=(vec2(-d.y,d.x)*s.y+d*(s.x*2.-1.)*.5)*wide*.5;" +
    "vec3 q=mix(u,v,s.x);gl_Position=vec4(q.xy+o/half_px,q.z+push,1.);}";
  var LINE_F = "precision mediump float;uniform vec4 ink;void main(){gl_FragColor=ink;}";

  /* ---- Packing ---- */

  function unpacked(payload) {
    if (payload.form !== FORM) throw new Error("another form of packing");
    if (payload.stages[0].spots) return payload;
    var text = atob(payload.data), bytes = new Uint8Array(text.length), each;
    for (each = 0; each < text.length; each++) bytes[each] = text.charCodeAt(each);
    var plain = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate"));
    return new Response(plain).arrayBuffer().then(function (buffer) {
      var data = new Uint8Array(buffer), at = 0;
      payload.stages.forEach(function (stage) {
        if ("as" in stage) { Object.assign(stage, payload.stages[stage.as], { name: stage.name }); return; }
        var n = stage.points, m = stage.triangles * 3, axis, i, code, value;
        stage.spots = new Float32Array(n * 3);
        stage.corners = new Uint32Array(m);
        for (axis = 0; axis < 3; axis++) {
          for (i = 0, value = 0; i < n; i++) {
            code = data[at + i] | data[at + n + i] << 8;
            value += code & 1 ? -(code + 1) / 2 : code / 2;
            stage.spots[i * 3 + axis] = payload.low[axis] + value * payload.step;
          }
          at += 2 * n;
        }
        for (i = 0, value = 0; i < m; i++) {
          code = value - (data[at + i] | data[at + m + i] << 8 | data[at + 2 * m + i] << 16);
          if (code === value) value++;
          stage.corners[i] = code;
        }
        at += 3 * m;
      });
      return payload;
    });
  }

  /* ---- Reading a mesh: soft normals, sharp edges, and edges that may be an outline ---- */

  function read(stage) {
    var p = stage.spots, c = stage.corners, faces = c.length / 3, i, j, k;
    var cross = new Float32Array(c.length), unit = new Float32Array(c.length), around = [];
    for (i = 0; i < faces; i++) {
      var a = c[3 * i] * 3, b = c[3 * i + 1] * 3, d = c[3 * i + 2] * 3;
      var ux = p[b] - p[a], uy = p[b + 1] - p[a + 1], uz = p[b + 2] - p[a + 2];
      var vx = p[d] - p[a], vy = p[d + 1] - p[a + 1], vz = p[d + 2] - p[a + 2];
      var x = uy * vz - uz * vy, y = uz * vx - ux * vz, z = ux * vy - uy * vx, l = Math.hypot(x, y, z) || 1;
      cross.set([x, y, z], 3 * i);
      unit.set([x / l, y / l, z / l], 3 * i);
      for (j = 0; j < 3; j++) (around[c[3 * i + j]] = around[c[3 * i + j]] || []).push(i);
    }
    function alike(one, two) {
      return unit[3 * one] * unit[3 * two] + unit[3 * one + 1] * unit[3 * two + 1] + unit[3 * one + 2] * unit[3 * two + 2];
    }
    var solid = new Float32Array(c.length * 6), edges = new Map(), lines = [];
    for (i = 0; i < faces; i++) {
      for (j = 0; j < 3; j++) {
        var at = c[3 * i + j], n = [0, 0, 0], beside = around[at];
        for (k = 0; k < beside.length; k++) {
          if (alike(i, beside[k]) < SHARP) continue;
          n[0] += cross[3 * beside[k]]; n[1] += cross[3 * beside[k] + 1]; n[2] += cross[3 * beside[k] + 2];
        }
        var long = Math.hypot(n[0], n[1], n[2]) || 1;
        solid.set([p[3 * at], p[3 * at + 1], p[3 * at + 2], n[0] / long, n[1] / long, n[2] / long], (3 * i + j) * 6);
        var to = c[3 * i + (j + 1) % 3], key = Math.min(at, to) * stage.points + Math.max(at, to), other = edges.get(key);
        if (other === undefined) { edges.set(key, i); continue; }
        var turn = alike(i, other);
        if (turn > 0.99999) continue;
        var ends = [p[3 * at], p[3 * at + 1], p[3 * at + 2], p[3 * to], p[3 * to + 1], p[3 * to + 2]];
        for (k = 0; k < 3; k++) ends.push(turn < SHARP ? 0 : unit[3 * i + k]);
        for (k = 0; k < 3; k++) ends.push(turn < SHARP ? 0 : unit[3 * other + k]);
        [[0, -1], [0, 1], [1, -1], [1, -1], [0, 1], [1, 1]].forEach(function (corner) { lines.push.apply(lines, ends.concat(corner)); });
      }
    }
    return { solid: solid, lines: new Float32Array(lines) };
  }

  /* ---- Drawing ---- */

  function Painter(canvas, payload) {
    var gl = canvas.getContext("webgl", { antialias: true, alpha: true, premultipliedAlpha: false });
    if (!gl) return null;
    function program(vertex, fragment, names) {
      var made = gl.createProgram();
      [[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]].forEach(function (one) {
        var shader = gl.createShader(one[0]);
        gl.shaderSource(shader, one[1]);
        gl.compileShader(shader);
        gl.attachShader(made, shader);
      });
      names.forEach(function (name, place) { gl.bindAttribLocation(made, place, name); });
      gl.linkProgram(made);
      if (!gl.getProgramParameter(made, gl.LINK_STATUS) && !gl.isContextLost()) throw new Error("no program");
      return { made: made, at: function (name) { return gl.getUniformLocation(made, name); } };
    }
    var solid, line, held = [];
    function start() {
      solid = program(SOLID_V, SOLID_F, ["p", "n"]);
      line = program(LINE_V, LINE_F, ["a", "b", "m", "n", "s"]);
      held = [];
    }
    function buffer(array) {
      var made = gl.createBuffer();
      gl.bindBuffer(gl.ARRAY_BUFFER, made);
      gl.bufferData(gl.ARRAY_BUFFER, array, gl.STATIC_DRAW);
      return made;
    }
    function stage(number) {
      if (!held[number]) {
        var got = read(payload.stages[number]);
        held[number] = { solid: buffer(got.solid), corners: got.solid.length / 6, lines: buffer(got.lines), ends: got.lines.length / 14 };
      }
      return held[number];
    }
    function use(which, data, sizes, view, push) {
      var stride = 0, offset = 0, place;
      gl.useProgram(which.made);
      gl.bindBuffer(gl.ARRAY_BUFFER, data);
      sizes.forEach(function (size) { stride += size * 4; });
      for (place = 0; place < 5; place++) {
        if (place < sizes.length) {
          gl.enableVertexAttribArray(place);
          gl.vertexAttribPointer(place, sizes[place], gl.FLOAT, false, stride, offset);
          offset += sizes[place] * 4;
        } else gl.disableVertexAttribArray(place);
      }
      gl.uniformMatrix3fv(which.at("turn"), false, view.turn);
      gl.uniform3fv(which.at("mid"), view.mid);
      gl.uniform3fv(which.at("size"), view.size);
      gl.uniform1f(which.at("push"), push);
    }
    start();
    return {
      gl: gl, start: start,
      draw: function (number, view, look, ghost) {
        if (gl.isContextLost()) return;
        var here = stage(number), wide = canvas.width, tall = canvas.height;
        gl.viewport(0, 0, wide, tall);
        gl.clearColor(0, 0, 0, 0);
        gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
        gl.enable(gl.DEPTH_TEST);
        gl.depthFunc(gl.LEQUAL);
        gl.enable(gl.CULL_FACE);
        gl.disable(gl.BLEND);
        gl.enable(gl.POLYGON_OFFSET_FILL);
        gl.polygonOffset(1, 1);
        use(solid, here.solid, [3, 3], view, 0);
        gl.uniform3fv(solid.at("low"), look.shade);
        gl.uniform3fv(solid.at("plain"), look.wood);
        gl.uniform3fv(solid.at("high"), look.light);
        gl.uniform1f(solid.at("every"), 9 * view.dense);
        gl.uniform4f(solid.at("veil"), 0, 0, 0, 0);
        gl.drawArrays(gl.TRIANGLES, 0, here.corners);
        gl.disable(gl.CULL_FACE);
        edges(here, look.ink, -0.004);
        if (!ghost) return;
        /* The stage before, behind what has stayed: what is left to see of it is what this step takes away. */
        var before = stage(number - 1);
        gl.enable(gl.CULL_FACE);
        gl.enable(gl.BLEND);
        gl.blendFuncSeparate(gl.SRC_ALPHA, gl.ONE_MINUS_SRC_ALPHA, gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
        use(solid, before.solid, [3, 3], view, 0.003);
        gl.uniform4f(solid.at("veil"), look.accent[0], look.accent[1], look.accent[2], 0.3);
        gl.colorMask(false, false, false, false);
        gl.drawArrays(gl.TRIANGLES, 0, before.corners);
        gl.colorMask(true, true, true, true);
        gl.depthFunc(gl.EQUAL);
        gl.drawArrays(gl.TRIANGLES, 0, before.corners);
        gl.depthFunc(gl.LESS);
        gl.disable(gl.CULL_FACE);
        edges(before, look.accent, 0.002);

        function edges(of, color, push) {
          use(line, of.lines, [3, 3, 3, 3, 2], view, push);
          gl.uniform2f(line.at("half_px"), wide / 2, tall / 2);
          gl.uniform1f(line.at("wide"), 1.7 * view.dense);
          gl.uniform4f(line.at("ink"), color[0], color[1], color[2], 1);
          gl.drawArrays(gl.TRIANGLES, 0, of.ends);
        }
      }
    };
  }

  /* ---- The viewer ---- */

  var SORRY = "3D cannot be shown here. The still picture stays.";
  function made(name, kind, words, more) {
    var one = document.createElement(name);
    if (kind) one.className = "hb-solid__" + kind;
    if (words) one.textContent = words;
    Object.keys(more || {}).forEach(function (key) { one.setAttribute(key, more[key]); });
    return one;
  }
  function colors(probe) {
    var look = {};
    ["shade", "wood", "light", "ink", "accent"].forEach(function (name) {
      probe.style.color = "var(--hb-solid-" + name + ")";
      var said = getComputedStyle(probe).color, parts = said.match(/[\d.]+/g).slice(0, 3).map(Number);
      look[name] = said.indexOf("color(") === 0 ? parts : parts.map(function (part) { return part / 255; });
    });
    return look;
  }
  function dot(a, b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }
  function cross(a, b) { return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]; }
  function unit(a) { var l = Math.hypot(a[0], a[1], a[2]); return a.map(function (x) { return x / l; }); }

  function view(figure, payload) {
    var stills = figure.querySelectorAll("img"), open = figure.querySelector(".hb-solid__open"), note = figure.querySelector(".hb-solid__note");
    var canvas = made("canvas", "canvas", "", { tabindex: "0", role: "img" }), box = made("div", "view"), probe = made("span", "probe");
    var painter = Painter(canvas, payload);
    if (!painter) { note.textContent = SORRY; open.hidden = true; return; }
    var last = payload.stages.length - 1, number = last, pending = false, zoom = 1, yaw = 0, tilt = 0, look;
    var pole = unit(payload.up), side = unit(cross(pole, payload.toward)), front = cross(side, pole), rise = Math.asin(dot(unit(payload.toward), pole));
    var mid = payload.low.map(function (low, axis) { return (low + payload.high[axis]) / 2; });
    var reach = Math.hypot(payload.high[0] - mid[0], payload.high[1] - mid[1], payload.high[2] - mid[2]) || 1;

    var help = made("p", "help", "Drag it or use the arrow keys to turn it; + and − to zoom; [ and ] or Page Up and Page Down for steps; Home for the first view.");
    var says = made("p", "says", "", { "aria-live": "polite" });
    var takes = made("input", "", "", { type: "checkbox" });
    var label = made("label", "takes");
    label.append(takes, " Show what this step takes away");
    function button(words, run, name) {
      var one = made("button", "", words, { type: "button" });
      if (name) one.setAttribute("aria-label", name);
      one.addEventListener("click", run);
      return one;
    }
    function group(name, buttons) {
      var one = made("div", "group", "", { role: "group", "aria-label": name });
      one.append.apply(one, buttons);
      return one;
    }
    var back = button("Previous step", before), next = button("Next step", after);
    help.id = "hb-solid-help-" + figure.getAttribute("data-hb-solid");
    canvas.setAttribute("aria-describedby", help.id);
    box.append(canvas, says, group("Steps", [back, next, label]), group("View", [
      button("←", left, "Turn to the left"), button("→", right, "Turn to the right"), button("↑", up, "Tilt up"), button("↓", down, "Tilt down"),
      button("+", nearer, "Zoom in"), button("−", farther, "Zoom out"),
      button("First view", reset), button("Back to the still", close)
    ]), help, probe);

    function turn(right, down) { yaw += right * TURN; tilt = Math.max(-1.55 - rise, Math.min(1.55 - rise, tilt + down * TURN)); ask(); }
    function scale(by) { zoom = Math.max(0.6, Math.min(8, zoom * by)); ask(); }
    function left() { turn(-1, 0); }
    function right() { turn(1, 0); }
    function up() { turn(0, -1); }
    function down() { turn(0, 1); }
    function nearer() { scale(1.25); }
    function farther() { scale(0.8); }
    function before() { go(number - 1); }
    function after() { go(number + 1); }
    function reset() { yaw = tilt = 0; zoom = 1; ask(); }
    function go(to) {
      number = Math.max(0, Math.min(last, to));
      /* A button that switches itself off would lose the focus to nowhere. */
      back.setAttribute("aria-disabled", String(number === 0));
      next.setAttribute("aria-disabled", String(number === last));
      says.textContent = "Step " + (number + 1) + " of " + (last + 1) + ": " + payload.stages[number].name;
      canvas.setAttribute("aria-label", payload.title + ", in 3D. " + says.textContent);
      ask();
    }
    function ask() { if (!pending) { pending = true; requestAnimationFrame(draw); } }
    function draw() {
      pending = false;
      if (!canvas.isConnected) return;
      var dense = Math.min(window.devicePixelRatio || 1, 2), wide = Math.max(1, Math.round(canvas.clientWidth * dense)), tall = Math.max(1, Math.round(canvas.clientHeight * dense));
      if (canvas.width !== wide || canvas.height !== tall) { canvas.width = wide; canvas.height = tall; }
      look = look || colors(probe);
      var high = rise + tilt, flat = [0, 1, 2].map(function (k) { return front[k] * Math.cos(yaw) - side[k] * Math.sin(yaw); });
      var toward = [0, 1, 2].map(function (k) { return flat[k] * Math.cos(high) + pole[k] * Math.sin(high); }), across = cross(pole, flat), above = cross(toward, across);
      var per = zoom / reach / 1.02, short = Math.min(wide, tall);
      painter.draw(number, {
        turn: new Float32Array([across[0], above[0], toward[0], across[1], above[1], toward[1], across[2], above[2], toward[2]]),
        mid: mid, size: [per * short / wide, per * short / tall, -0.5 / reach], dense: dense
      }, look, takes.checked && number > 0);
    }
    /* There may be one still for light pages and one for dark. */
    function swap(on) { stills.forEach(function (one) { one.hidden = on; }); open.hidden = on; }
    function close() {
      stop();
      box.remove();
      var lose = painter.gl.getExtension("WEBGL_lose_context");
      if (lose) lose.loseContext();
      swap(false);
      open.focus();
    }

    var keys = {
      __proto__: null,
      ArrowLeft: left, ArrowRight: right, ArrowUp: up, ArrowDown: down,
      "+": nearer, "=": nearer, "-": farther, "[": before, "]": after, PageUp: before, PageDown: after,
      Home: reset
    };
    canvas.addEventListener("keydown", function (event) {
      if (event.ctrlKey || event.metaKey || event.altKey || !keys[event.key]) return;
      event.preventDefault();
      event.stopPropagation();
      keys[event.key]();
    });
    /* One finger or the mouse turns; two fingers zoom. Up and down, a finger moves the page. */
    var touched = new Map();
    function apart() { var two = Array.from(touched.values()); return Math.hypot(two[0].x - two[1].x, two[0].y - two[1].y) || 1; }
    canvas.addEventListener("pointerdown", function (event) { canvas.setPointerCapture(event.pointerId); touched.set(event.pointerId, { x: event.clientX, y: event.clientY }); });
    canvas.addEventListener("pointermove", function (event) {
      var was = touched.get(event.pointerId);
      if (!was) return;
      var span = touched.size === 2 ? apart() : 0, x = event.clientX - was.x, y = event.clientY - was.y;
      was.x = event.clientX; was.y = event.clientY;
      if (span) scale(apart() / span); else turn(x / 20, y / 20);
    });
    ["pointerup", "pointercancel"].forEach(function (name) { canvas.addEventListener(name, function (event) { touched.delete(event.pointerId); }); });
    canvas.addEventListener("wheel", function (event) {
      if (document.activeElement !== canvas) return;
      event.preventDefault();
      scale(Math.exp(-event.deltaY / 500));
    }, { passive: false });
    takes.addEventListener("change", ask);
    canvas.addEventListener("webglcontextlost", function (event) { event.preventDefault(); if (canvas.isConnected) note.textContent = "The 3D picture was lost; it comes back by itself."; });
    canvas.addEventListener("webglcontextrestored", function () { note.textContent = ""; painter.start(); ask(); });

    function recolor() { look = null; ask(); }
    var sized = new ResizeObserver(ask), schemed = new MutationObserver(recolor), dark = matchMedia("(prefers-color-scheme: dark)");
    /* Which attribute a page's theme changes with its colors is not ours to know. */
    [document.documentElement, document.body].forEach(function (one) { schemed.observe(one, { attributes: true }); });
    dark.addEventListener("change", recolor);
    function stop() { sized.disconnect(); schemed.disconnect(); dark.removeEventListener("change", recolor); }

    note.textContent = "";
    swap(true);
    figure.insertBefore(box, note);
    sized.observe(canvas);
    go(last);
    canvas.focus();
  }

  /* ---- Asking for it ---- */

  function ready(figure) {
    if (figure.hasAttribute("data-hb-ready")) return;
    figure.setAttribute("data-hb-ready", "");
    var open = figure.querySelector(".hb-solid__open"), note = figure.querySelector(".hb-solid__note"), name = figure.getAttribute("data-hb-solid");
    function fail() { note.textContent = SORRY; open.removeAttribute("aria-busy"); }
    open.hidden = false;
    open.addEventListener("click", function () {
      if (open.getAttribute("aria-busy")) return;
      open.setAttribute("aria-busy", "true");
      note.textContent = "Loading …";
      function show(payload) {
        Promise.resolve(payload).then(unpacked).then(function (got) { open.removeAttribute("aria-busy"); view(figure, got); }).catch(fail);
      }
      if (arrived[name]) { show(arrived[name]); return; }
      waiting[name] = show;
      var script = document.createElement("script");
      script.src = figure.getAttribute("data-hb-src");
      script.addEventListener("error", fail);
      document.head.append(script);
    });
  }
  function init() { document.querySelectorAll("[data-hb-solid]").forEach(ready); }

  window.HandoutsSolid = {
    receive: function (name, payload) { arrived[name] = payload; if (waiting[name]) waiting[name](payload); }
  };
  if (window.document$) window.document$.subscribe(init);
  else if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", init);
  else init();
})();
