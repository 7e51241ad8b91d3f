/* What the page's scripts share with each other, with the page and with the library: its data and its globals.
   For the type checker alone; nothing of this is published. The data is made in `outputs/pages/own_size.py`,
   `outputs/pages/own_size_constants.py`, `outputs/evening/pages.py` and `figures/solid/pack.py`. */

/* ---- The page's globals ---- */

interface Window {
  /** The own-size panel's parts; each of its scripts adds one. */
  handoutsOwnSize?: OwnSize;
  /** Takes a piece that has arrived for the viewer of solids. */
  HandoutsSolid: Solid.Viewer;
  /** Takes the pieces that may be found, and their cards one by one. */
  handoutsFind: { receive(told: Find.Told): void; card(card: [name: string, words: string]): void };
  /** The theme's: tells of every page that is shown, where pages follow one another without loading. */
  document$?: { subscribe(run: () => void): unknown };
  Worker: typeof Worker;
}

/** A frame's window, which stands in for a worker's scope. */
interface WorkerFrame extends Window {
  importScripts?: (...addresses: string[]) => Promise<unknown>;
}

/** A sentence of the catalogue. When a script is published, what it says in the language of the page is put here. */
declare function tr(sentence: string): string;

/** The theme's: the root of the site. */
declare let __md_scope: URL;

/* ---- Pieces to find, as `outputs/pages/browsing.py` tells them ---- */

declare namespace Find {
  interface Facet {
    name: string;
    title: string;
    /** Whether a piece may be asked to have two of its values at once. */
    several: boolean;
    values: [slug: string, says: string][];
  }
  /** Its name, its title, and for each facet the places of the values that it has. */
  type Piece = [name: string, title: string, having: number[][]];
  interface Told {
    facets: Facet[];
    pieces: Piece[];
  }
}

/* ---- Numbers and words that the library hands over ---- */

type Unit = "in" | "mm";
/** A step or a fraction: the number above and the number below. */
type Pair = [over: number, under: number];
type Side = "over" | "under" | "nearest";
type Words = Record<string, string>;

interface Rule {
  lead: Unit;
  in: Pair;
  mm: Pair;
}

/** A unit that an exact value is printed in. */
interface Scale {
  unit: string;
  per?: number;
  times?: number;
  places?: number;
  amount?: boolean;
  below?: number;
  marks?: number;
  digits?: number;
}

interface PrintingConstants {
  inch: Pair;
  /** By kind: in inches and in millimeters, or once where they are the same. */
  scales: Record<string, Scale[][]>;
  unnamed: number;
  same: number;
  least: number;
  near: number;
  half: number;
  more: number;
  fine: { in: Pair; mm: Pair };
  fine_places: number;
  mm_places: number;
  unseen: number;
  rounded: Record<Side, string>;
}

interface ReadingConstants {
  longest: number;
  longest_mm: number;
  /** Kind, and size in base units over a whole number. */
  units: Record<string, [kind: string, size: number, over: number]>;
  vulgar: Record<string, Pair>;
  spelt: Words;
  grammar: Record<"whole" | "hyphened" | "comma" | "two" | "number" | "fraction", string>;
  refusals: Record<string, [message: string, hint: string]>;
  same: number;
}

interface FormulaConstants {
  alike: number;
  whole: number;
  exponent: number;
  faults: Record<"large" | "divided" | "root" | "step" | "ratio" | "valueless", string>;
  binds: Record<string, number>;
  signs: Words;
  called: Words;
  powers: Words;
}

interface DrawConstants {
  strip: number;
  closest: number;
  pieces: number;
  line: number;
  least: number;
  card: number;
  letter: number;
  drop: number;
  tab: number;
  pen: number;
  numbered: number[];
  dashes: Words;
  widths: [letters: string, width: number][];
  others: [small: number, large: number, sign: number];
  glue: [long: string, short: string];
  words: Record<"strip" | "rays" | "circles" | "gauge", Words>;
  bars: [length: number, parts: number, words: string][];
  bar: string;
  piece: string;
}

interface Constants {
  printing: PrintingConstants;
  reading: ReadingConstants;
  formulas: FormulaConstants;
  words: {
    levels: Words;
    units: Record<Unit, string>;
    bounds: Record<"both" | "least" | "most", string>;
    remedy: string;
    must: Words;
    asked: string;
    actual_size: string;
  };
  draw: DrawConstants;
}

/* ---- A project as its page carries it ---- */

type Sign = "+" | "-" | "*" | "/" | "^" | "<" | ">" | "<=" | ">=";
type Tree =
  | ["num", number, string]
  | ["name", string]
  | ["neg", Tree]
  | ["call", string, ...Tree[]]
  | ["sum", number, Tree]
  | [Sign, Tree, Tree];
type Look = (name: string) => number;

/** How a value is printed, wherever it stands; what is not said is as usual. */
interface Manner {
  err?: Side;
  /** By calipers, not to marks of a rule. */
  fine?: boolean;
  /** As it is: a bit, a hole. */
  exact?: boolean;
  /** The hole it goes into, by name. */
  below?: string;
  /** Of a change, what its amount is put into in the place of its sign: where it is more than nought, and where it is less. */
  ways?: [more: string, less: string];
}

interface Size extends Manner {
  name: string;
  says: string;
  kind: string;
  value: number;
  text: string;
  wants: string;
  least?: number;
  most?: number;
  choices?: { value: number; text: string }[];
}

interface Condition {
  tree: Tree;
  level: string;
  message: string;
  remedy: string;
  says?: string;
  at?: string;
}

/** A value that follows, and how it is printed. */
interface Row extends Manner {
  name: string;
  kind: string;
  value: number;
  says: string;
  err: Side;
  tree: Tree;
  /** Of the neck: each station's diameter, and how it is printed. */
  at?: [name: string, how: Manner][];
  chain?: Tree;
}

interface Given extends Manner {
  name: string;
  kind: string;
  value: number;
  says?: string;
  tree: Tree;
  /** Its key in the project file, where the author gave it. */
  key?: string;
  what?: string;
  /** What a table's value rests on, and the table's lines: up to so much, so much. */
  rests?: string[];
  lines?: Pair[];
  /** Whether a length may be nought or less. */
  signed?: boolean;
}

interface Fit {
  name: string;
  kind: string;
  value: number;
  tree: Tree;
  condition: Condition;
}

/** What is settled together: a dimension of the author's, a working, a profile. */
interface Piece {
  name: string;
  title: string;
  dimensions: Row[];
  givens?: Given[];
  conditions?: Condition[];
  rows?: [name: string, law: number, others: Words][];
  fits?: Fit[];
  stations?: [what: string, at: string, across: string, how: Manner][];
}

interface PlainFinding {
  level: string;
  about: string;
  message: string;
  remedy: string;
  accepted?: boolean;
}

interface Ready {
  name: string;
  says: string;
  sizes: Words;
  findings: PlainFinding[];
}

interface Project {
  name: string;
  title: string;
  constants: Constants;
  rule: Rule;
  rules: Record<Unit, Pair[]>;
  sizes: Size[];
  pieces: Piece[];
  laws: Tree[];
  keep: Condition[];
  cautions: (Condition & { about: string })[];
  blanks: { part: string; title: string; sides: { says: string; kind: string; value: number; err: Side; tree: Tree }[] }[];
  findings: PlainFinding[];
  ready: Ready[];
  templates: { piece: string; title: string; kinds: TemplateKind[] }[];
}

/* ---- What the own-size scripts give one another ---- */

interface Printed {
  lead: string;
  other: string;
  /** How much the leading one is rounded by, in mm. */
  off: number;
  /** Of a length: the numbers of inches and of millimeters that the texts say. */
  in?: number;
  mm?: number;
  /** Of a change: what its amount is put into in the place of its sign; the leading text is put into it already. */
  way?: string;
}

/** What a tenon goes into: its width in mm, and as it is printed. */
interface Hole {
  value: number;
  printed: Printed;
}

interface Fault {
  message: string;
  hint: string;
  /** The message for a reader, who does not know what the file calls a size. */
  told: string;
  /** The unit that the hint offers; empty where it offers any. */
  offers?: string;
}

interface Numbers {
  decimal(x: number, places: number): string;
  general(x: number, digits: number): string;
  exact(x: number, kind: string, lead: Unit, err?: Side, more?: number): string;
  print(x: number, kind: string, rule: Rule, err: Side, fine?: boolean, hole?: Hole, chain?: Pair): Printed;
  told(x: number, kind: string, rule: Rule, err?: Side): Printed;
  shown(x: number, kind: string, rule: Rule, how: Manner, hole?: Hole, chain?: Pair): Printed;
  /** Decimals more than usual in a working that shows to which side it was rounded. */
  more: number;
  said(printed: Printed): string;
  rounding(printed: Printed, x: number, kind: string, lead: Unit, err: Side, fine?: boolean): string;
  step(rule: Rule): number;
}

interface Reading {
  read(text: string): { value: number; kind: string };
  sized(size: Size, text: string, lead: Unit): number;
  unsound(size: Size, x: number, lead: Unit): Fault | null;
  tooLong(x: number, what: string, told: string): Fault | null;
}

interface Formulas {
  valueOf(tree: Tree, look: Look): number;
  holds(tree: Tree, look: Look): boolean;
  names(tree: Tree, found?: Set<string>): Set<string>;
  written(tree: Tree, say: (name: string) => string): string;
}

interface OwnFinding extends PlainFinding {
  told: string;
  /** Whether the author asks for it. */
  asked: boolean;
}

interface OwnProblem {
  at: string;
  message: string;
  hint: string;
  told: string;
}

interface Worked {
  values: Map<string, number>;
  prints: Map<string, Printed>;
  kinds: Map<string, string>;
  rows: Map<string, Row>;
  /** Names whose value is not the written one. */
  moved: Set<string>;
  /** Names that rest on what a page cannot look up. */
  stale: Set<string>;
  failed: Set<string>;
  problems: OwnProblem[];
  findings: OwnFinding[];
  cautions: OwnFinding[];
  unjudged: string[];
  blanks: ({ value: number; stale: boolean; printed: Printed } | null)[][];
  hole(name: string | undefined): Hole | undefined;
}

interface Arithmetic {
  read: Reading["read"];
  sized: Reading["sized"];
  print: Numbers["print"];
  shown: Numbers["shown"];
  said: Numbers["said"];
  work(data: Project, chosen: Record<string, number | undefined>, rule: Rule): Worked;
  working(worked: Worked, name: string, rule: Rule): { numbers: string; result: string; rounding: string };
}

type TemplateKind = "strip" | "rays" | "circles" | "gauge";

/** A drawing of true size, in mm, and what its words open with. */
interface Drawn {
  svg: SVGSVGElement;
  width: number;
  height: number;
  words: string;
}

interface Template {
  title: string;
  use: string;
  pieces: Drawn[];
}

/** What a paper is put together from. */
interface OnPaper {
  data: Project;
  worked: Worked;
  rule: Rule;
  arithmetic: Arithmetic;
  show(home: Element, text: string): void;
  make<Tag extends keyof HTMLElementTagNameMap>(tag: Tag, name?: string, ...inside: (Node | string)[]): HTMLElementTagNameMap[Tag];
  said: { before: Node[]; after: Node[] };
}

interface OwnSize {
  /** Takes a project that has arrived. */
  receive(data: Project): void;
  fill(words: string, values: Record<string, string | number>): string;
  Fault: new (message: string, hint?: string, told?: string, offers?: string) => Fault;
  numbers(constants: PrintingConstants): Numbers;
  reading(constants: ReadingConstants, numbers: Numbers): Reading;
  formulas(constants: FormulaConstants, numbers: Numbers): Formulas;
  arithmetic(constants: Constants): Arithmetic;
  templates(data: Project, worked: Worked, rule: Rule, arithmetic: Arithmetic): Template[];
  bar(draw: DrawConstants): Drawn;
  paper(kind: "sheet" | "cut", at: OnPaper): void;
}

/* ---- The viewer of solids ---- */

declare namespace Solid {
  type Point = [number, number, number];

  /** A stage as it is packed; one that is like another only names it. */
  interface Stage {
    name: string;
    as?: number;
    points: number;
    triangles: number;
    /** Of wood that bears bark: a point in the middle of its log, the way that runs, and the radius under the bark;
     * then three by three numbers that take ways in it to those before its wood dried. */
    grown?: number[];
    glued?: Glued;
    spots?: Float32Array;
    corners?: Uint32Array;
  }

  /** A course of a glued-up blank: where it ends, where its first joint lies in degrees, and its woods' tones from there. */
  type Course = [end: number, turn: number, tones: string[]];

  /** A round that is let in: its mouth's middle, the way in, radius of the hole and of what stands out, where it begins
   * and ends along that way, and its wood's tone. */
  type Round = [x: number, y: number, z: number, i: number, j: number, k: number, radius: number, outer: number,
    start: number, end: number, tone: string];

  /** Which glued-up blank a stage is cut from; how it lies: its left end, then its x, y and axis; and what is let in. */
  interface Glued {
    stack: number;
    lies: number[];
    rounds: Round[];
  }

  /** The same with its courses. */
  type Woods = { courses: Course[] } & Pick<Glued, "lies" | "rounds">;

  interface Packed {
    form: number;
    title: string;
    data: string;
    step: number;
    low: Point;
    high: Point;
    up: Point;
    toward: Point;
    stages: Stage[];
    stacks: Course[][];
  }

  /** A stage as it is drawn. */
  interface Mesh {
    name: string;
    spots: Float32Array;
    corners: Uint32Array;
    grown: number[];
    glued?: Woods;
  }

  /** A piece that has arrived. */
  type Piece = Omit<Packed, "stages"> & { stages: Mesh[] };

  /** The page's colors, each red, green and blue from 0 to 1. */
  type Look = Record<"shade" | "wood" | "light" | "bark" | "ink" | "accent" | "glue" | "woods", number[]>;

  /** Where one looks from: a turning (3 x 3, by columns), the middle, and how large a millimeter is. */
  interface View {
    turn: Float32Array;
    mid: Point;
    size: Point;
    dense: number;
  }

  interface Camera {
    yaw: number;
    tilt: number;
    zoom: number;
    turn(right: number, down: number): void;
    scale(by: number): void;
    reset(): void;
    view(wide: number, tall: number, dense: number): View;
  }

  interface Painter {
    stages: Mesh[];
    give(stages: Mesh[]): void;
    restart(): void;
    draw(number: number, view: View, look: Look, ghost: boolean): void;
  }

  /** What `solid.js` gives to a page, and what a page that stands pieces up by itself is made with. */
  interface Viewer {
    receive(name: string, payload: Packed): void;
    unpacked(payload: Packed): Promise<Piece>;
    Painter: new (gl: WebGLRenderingContext, stages: Mesh[]) => Painter;
    Camera: new (piece: Packed | Piece) => Camera;
    colors(probe: HTMLElement): Look;
    steered(canvas: HTMLCanvasElement, camera: Camera, ask: () => void, more: [key: string, act: () => void][]): void;
  }
}

/* ---- The bench ---- */

/** What the bench's server says of a project; it is made in `bench/looks.py` and `bench/solids.py`. */
declare namespace Bench {
  type Level = "problem" | "stop" | "mind" | "note";

  interface Change {
    line: number;
    old: string[];
    new: string[];
  }

  interface Note {
    level: Level;
    line: number;
    place: string;
    about: string;
    message: string;
    remedy: string;
    step: number;
    changes: Change[];
  }

  /** A dimension on the wood: across an axis at a place, or along one between two, in the viewer's millimeters. */
  interface Dimension {
    kind: "across" | "along";
    start: Solid.Point;
    end: Solid.Point;
    axis: Solid.Point;
    radius: number;
    word: string;
    cut: string;
    lead: string;
    other: string;
  }

  interface Wood {
    packed: Solid.Packed;
    changed: boolean;
    dimensions: Dimension[];
    cuts: { word: string; name: string; keys: { word: string; lead: string; other: string; says: string }[] }[];
  }

  interface Seen {
    number: number;
    project: string;
    projects: string[];
    file: string;
    title: string;
    broken: boolean;
    lines: string[];
    changed: number;
    changed_step: number;
    notes: Note[];
    steps: { number: number; name: string; part: string; first: number; last: number }[];
    step: null | {
      number: number;
      name: string;
      part: string;
      hold: string;
      speed: string;
      limit: string;
      say: string[];
      facts: { says: string; printed: string; about: string }[];
      cautions: string[];
    };
    solid: Wood | null;
    refused?: string;
    names: { title: string; rows: { name: string; lead: string; other: string; says: string }[] }[];
  }
}

/* ---- The stopwatch ---- */

declare namespace Watch {
  interface Leg {
    name: string;
    shown: string;
    planned: number;
    number: number;
  }

  interface Stretch {
    step: string;
    shown: string;
    start: number;
    end: number;
  }

  interface Pause {
    at: number;
    lasted: number;
  }

  interface Note {
    at: number;
    step: string;
    says: string;
  }

  interface Run {
    began: string;
    kind: string;
    at: number;
    running: boolean;
    now: number;
    stretches: Stretch[];
    pauses: Pause[];
    skipped: string[];
    notes: Note[];
    open: boolean;
    thought: Note | null;
    legs: Leg[];
    earlier?: Run[];
  }

  interface Data {
    key: string;
    project: string;
    evening: string;
    steps: number;
    legs: Leg[];
    ends: number;
    zones: [zone: string | undefined, city: string][];
    longest: number;
    near: number;
    counted: string[];
    kinds: [rehearsed: string, held: string];
    replaced: [sign: string, instead: string][];
    words: Words;
    shown: Words;
  }
}
