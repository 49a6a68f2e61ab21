// The set from above: lines of frame, the camera's path, sources with their frames at true size, throws, stands, marks, dressing;
// what stands in frame boxed and crossed. Only what has a place is drawn. The same figures stand in rows below.

import { useRef, useState } from "preact/hooks";
import type { FrameOfShot } from "../sheet_types_of_things";
import { words } from "../words";
import { type Box, type Label, type Laid, layLabels } from "./labels";
import type { Beam, Placed, Plan, Spot } from "./places";

const w = words.sheet.plan;
const WIDTH = 358;
const LEAST_HEIGHT = 200;
const MARGIN_M = 0.7;
const CHARACTER = 6.4; // of the condensed face at 13 px, the wide side
const NEAR_M = 0.22; // figures nearer than this share one word

type Pixel = { x: number; y: number };
type Scale = { x: (m: number) => number; y: (m: number) => number; per_m: number; height: number };

const spotsOf = (plan: Plan): Spot[] => [
  ...plan.placed,
  ...plan.cameras,
  ...plan.cameras.map(({ floor: [x_m, y_m] }) => ({ x_m, y_m })),
];

function scaleOf(plan: Plan): Scale {
  const spots = spotsOf(plan);
  const [xs, ys] = [spots.map(({ x_m }) => x_m), spots.map(({ y_m }) => y_m)];
  const [left, right] = [Math.min(...xs) - MARGIN_M, Math.max(...xs) + MARGIN_M];
  const [near, far] = [Math.min(...ys) - MARGIN_M, Math.max(...ys) + MARGIN_M];
  const per_m = Math.min(WIDTH / (right - left), 640 / (far - near));
  const height = Math.max(LEAST_HEIGHT, (far - near) * per_m);
  const spare = (WIDTH - (right - left) * per_m) / 2;
  return { x: (m) => spare + (m - left) * per_m, y: (m) => (far - m) * per_m, per_m, height };
}

const at = (scale: Scale, { x_m, y_m }: Spot): Pixel => ({ x: scale.x(x_m), y: scale.y(y_m) });

function direction(from: Spot, to: Spot): Spot {
  const [x_m, y_m] = [to.x_m - from.x_m, to.y_m - from.y_m];
  const length = Math.hypot(x_m, y_m);
  return length < 0.01 ? { x_m: 0, y_m: 1 } : { x_m: x_m / length, y_m: y_m / length };
}

/** The two ends of a frame of that width, square to the light that falls on it. */
function edges(middle: Spot, along: Spot, width_m: number): [Spot, Spot] {
  const half = width_m / 2;
  return [
    { x_m: middle.x_m - along.y_m * half, y_m: middle.y_m + along.x_m * half },
    { x_m: middle.x_m + along.y_m * half, y_m: middle.y_m - along.x_m * half },
  ];
}

const points = (scale: Scale, spots: Spot[]): string =>
  spots
    .map((spot) => at(scale, spot))
    .map(({ x, y }) => `${x.toFixed(1)},${y.toFixed(1)}`)
    .join(" ");

const Line = ({ scale, spots, looks }: { scale: Scale; spots: Spot[]; looks: string }) => (
  <polyline points={points(scale, spots)} class={looks} fill="none" />
);

/** What the lens takes in at one moment: its two edges out to the end of the drawing, and a faint wedge between them. */
function LinesOfFrame({ plan, scale }: { plan: Plan; scale: Scale }) {
  const shown = plan.cameras.filter((camera) => camera.at !== "middle");
  const reach_m = (2 * Math.hypot(WIDTH, scale.height)) / scale.per_m;
  return (
    <>
      {shown.map((camera, place) => {
        const pan = (camera.pan_deg * Math.PI) / 180;
        const [axis, right] = [
          { x_m: Math.sin(pan), y_m: Math.cos(pan) },
          { x_m: Math.cos(pan), y_m: -Math.sin(pan) },
        ];
        const out = (side: number): Spot => ({
          x_m: camera.x_m + reach_m * (axis.x_m + side * camera.half_angle_ratio * right.x_m),
          y_m: camera.y_m + reach_m * (axis.y_m + side * camera.half_angle_ratio * right.y_m),
        });
        const is_last = place === shown.length - 1;
        return (
          <g key={camera.at}>
            {is_last && <polygon points={points(scale, [camera, out(-1), out(1)])} class="wedge" />}
            <Line scale={scale} spots={[out(-1), camera, out(1)]} looks={is_last ? "fr" : "fr2"} />
          </g>
        );
      })}
      {shown.length > 1 && <Line scale={scale} spots={shown} looks="path" />}
    </>
  );
}

function Cameras({ plan, scale }: { plan: Plan; scale: Scale }) {
  const shown = plan.cameras.filter((camera) => camera.at !== "middle");
  return shown.map((camera, place) => {
    const { x, y } = at(scale, camera);
    const is_last = place === shown.length - 1;
    return (
      <path
        key={camera.at}
        d="M-7 1H7V14H-7zM-6 1L0 -8L6 1"
        class={is_last ? "cam" : "cam2"}
        transform={`translate(${x} ${y}) rotate(${camera.pan_deg})`}
      />
    );
  });
}

function Throw({ beam, frames, scale }: { beam: Beam; frames: Placed[]; scale: Scale }) {
  if (!beam.is_burning) return null;
  const last = beam.through.at(-1);
  const width_m = last && frames.find(({ x_m, y_m }) => x_m === last.x_m && y_m === last.y_m)?.width_m;
  if (!last || !width_m) return beam.to && <Line scale={scale} spots={[beam.from, beam.to]} looks="throw" />;
  const [one, other] = edges(last, direction(beam.from, last), width_m);
  return (
    <>
      {beam.to && <polygon points={points(scale, [one, beam.to, other])} class="soft" />}
      <Line scale={scale} spots={[one, beam.from, other]} looks="throw" />
    </>
  );
}

/** The ends of a placed frame, square to its lamp where that has a place too. */
function frameEnds(placed: Placed, beams: Beam[]): [Spot, Spot] {
  const lamp = beams.find(({ through }) =>
    through.some((one) => one.x_m === placed.x_m && one.y_m === placed.y_m),
  );
  const along = lamp ? direction(lamp.from, placed) : { x_m: 0, y_m: 1 };
  return edges(placed, along, placed.width_m ?? 0.1);
}

/** Boxes along a frame that words keep off. */
function alongFrame(placed: Placed, beams: Beam[], scale: Scale): Box[] {
  const [one, other] = frameEnds(placed, beams).map((end) => at(scale, end)) as [Pixel, Pixel];
  return [0, 0.25, 0.5, 0.75, 1].map((share) => ({
    x: one.x + (other.x - one.x) * share - 5,
    y: one.y + (other.y - one.y) * share - 5,
    width: 10,
    height: 10,
  }));
}

/** A length of tape with torn ends. */
const torn = (x: number, y: number, width: number, height: number): string => {
  const [step, right] = [height / 4, x + width];
  return `M${x + 2} ${y}l-2 ${step}l2.5 ${step}l-2 ${step}l1.5 ${step}H${right - 2}l2 ${-step}l-2.5 ${-step}l2 ${-step}l-1.5 ${-step}z`;
};

function Figure({ placed, beams, scale }: { placed: Placed; beams: Beam[]; scale: Scale }) {
  const { x, y } = at(scale, placed);
  const is_lit = beams.find(({ key }) => key === placed.record)?.is_burning;
  switch (placed.what) {
    case "lamp":
      return <circle cx={x} cy={y} r="6" class={is_lit ? "lamp" : "prac"} />;
    case "frame":
      return <Line scale={scale} spots={frameEnds(placed, beams)} looks="sheet" />;
    case "stand":
      return (
        <g transform={`translate(${x} ${y})`}>
          <path d="M0 0V-11M0 0L9.5 5.5M0 0L-9.5 5.5" class="std" />
          <circle r="3" class="stdc" />
        </g>
      );
    case "mark":
      return <path d={`M${x - 7} ${y - 4}h14M${x} ${y - 4}v11`} class="tmk" />;
    case "point":
      return <circle cx={x} cy={y} r="4" class="pt" />;
    default: {
      const [width, depth] = [placed.width_m, placed.depth_m].map((side) =>
        Math.max(8, (side ?? 0) * scale.per_m),
      );
      return (
        <rect x={x - (width ?? 8) / 2} y={y - (depth ?? 8) / 2} width={width} height={depth} class="table" />
      );
    }
  }
}

/** "Stand 3, moon" -> "Stand 3": the whole title stands in the rows below. */
const shortly = (title: string): string => title.split(",")[0] ?? title;
const apart = (text: string): string => `\u2068${text}\u2069`;

/** Who gets the better place for its word. */
const TOLD_FIRST: Placed["what"][] = ["point", "lamp", "frame", "dressing", "mark", "stand"];
const FIRST: Placed["what"][] = ["lamp", "frame", "dressing", "point", "mark", "stand"];

/** One word for figures that lie on each other, the most telling one. */
function namesOf(placed: Placed[], scale: Scale, is_boxed: (one: Placed) => boolean): Label[] {
  const sorted = [...placed].sort((a, b) => FIRST.indexOf(a.what) - FIRST.indexOf(b.what));
  const named: Placed[] = [];
  for (const one of sorted) {
    const is_near = named.some((other) => Math.hypot(one.x_m - other.x_m, one.y_m - other.y_m) < NEAR_M);
    if (!is_near && !is_boxed(one)) named.push(one);
  }
  named.sort((a, b) => TOLD_FIRST.indexOf(a.what) - TOLD_FIRST.indexOf(b.what));
  return named.map((one) => {
    const text = shortly(one.title);
    return { key: one.record, text, ...at(scale, one), width: text.length * CHARACTER, height: 15 };
  });
}

function inFrame(placed: Placed[], scale: Scale, is_boxed: (one: Placed) => boolean): Label[] {
  return placed.filter(is_boxed).map((one) => {
    const text = w.in_frame(shortly(one.title));
    return {
      key: one.record,
      text,
      ...at(scale, one),
      width: text.length * (CHARACTER + 0.5) + 12,
      height: 22,
    };
  });
}

function camerasNamed(plan: Plan, scale: Scale): Label[] {
  const shown = plan.cameras.filter((camera) => camera.at !== "middle");
  return shown.map((camera) => {
    const text = shown.length > 1 ? (w.ats[camera.at] ?? "") : w.camera("");
    return { key: camera.at, text, ...at(scale, camera), width: text.length * CHARACTER + 6, height: 15 };
  });
}

const Leader = ({ laid }: { laid: Laid }) =>
  laid.is_away ? (
    <line
      x1={laid.x}
      y1={laid.y}
      x2={laid.left + laid.width / 2}
      y2={laid.top + laid.height / 2}
      class="dim"
    />
  ) : null;

/** In words, for whoever does not see the picture. */
export function planWords(plan: Plan, boxed: Placed[]): string {
  const said = boxed.map(({ title }) => w.in_frame(title));
  return `${w.of(plan.placed.map(({ title }) => title).join(", "))}. ${said.join(". ")}`;
}

const GRAB = 24; // half of what a gloved finger needs
const STEP_M = 0.1;
const LONG_STEP_M = 0.5;
const ARROWS: { [key: string]: [x: number, y: number] } = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

export type Movable = Spot & { key: string; title: string };
type Moving = { key: string; from: Pixel; x_m: number; y_m: number };
type GrabsProps = { movable: Movable[]; scale: Scale; onMove: (key: string, to: Spot) => void };

/** What may be taken hold of: dragged with a finger, or chosen and moved with the arrow keys. */
function Grabs({ movable, scale, onMove }: GrabsProps) {
  const [moving, setMoving] = useState<Moving | null>(null);
  const svgPixel = (event: PointerEvent): Pixel => {
    const svg = (event.currentTarget as SVGElement).ownerSVGElement;
    const inside = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg?.getScreenCTM()?.inverse());
    return { x: inside.x, y: inside.y };
  };
  const moved = (one: Movable): Spot => (moving?.key === one.key ? moving : one);
  const drag = (event: PointerEvent, one: Movable) => {
    if (moving?.key !== one.key) return;
    const { x, y } = svgPixel(event);
    const x_m = one.x_m + (x - moving.from.x) / scale.per_m;
    const y_m = one.y_m - (y - moving.from.y) / scale.per_m;
    setMoving({ ...moving, x_m: Math.round(x_m * 100) / 100, y_m: Math.round(y_m * 100) / 100 });
  };
  const letGo = (one: Movable) => {
    const to = moved(one);
    setMoving(null);
    if (to.x_m !== one.x_m || to.y_m !== one.y_m) onMove(one.key, to);
  };
  const step = (event: KeyboardEvent, one: Movable) => {
    const way = ARROWS[event.key];
    if (!way) return;
    event.preventDefault();
    const far = event.shiftKey ? LONG_STEP_M : STEP_M;
    const to = (at_m: number, side: number) => Math.round((at_m + side * far) * 100) / 100;
    onMove(one.key, { x_m: to(one.x_m, way[0]), y_m: to(one.y_m, way[1]) });
  };
  return (
    <>
      {movable.map((one) => {
        const { x, y } = at(scale, moved(one));
        return (
          <g key={one.key}>
            {moving?.key === one.key && (
              <text {...{ x, y: y - GRAB - 6 }} text-anchor="middle" class="lt b">
                {`${moving.x_m.toFixed(2)}, ${moving.y_m.toFixed(2)}`}
              </text>
            )}
            {/* biome-ignore lint/a11y/useSemanticElements: a drawing holds no button */}
            <circle
              cx={x}
              cy={y}
              r={GRAB}
              class="grab"
              data-grab={one.key}
              role="button"
              tabindex={0}
              aria-label={w.grab(one.title, one.x_m, one.y_m)}
              onPointerDown={(event) => {
                event.currentTarget.setPointerCapture(event.pointerId);
                setMoving({ key: one.key, from: svgPixel(event), x_m: one.x_m, y_m: one.y_m });
              }}
              onPointerMove={(event) => drag(event, one)}
              onPointerUp={() => letGo(one)}
              onPointerCancel={() => setMoving(null)}
              onKeyDown={(event) => step(event, one)}
            />
          </g>
        );
      })}
    </>
  );
}

type PlanProps = {
  plan: Plan;
  frame: FrameOfShot | undefined;
  /** Given while things may be moved. */
  moves?: { movable: Movable[]; onMove: (key: string, to: Spot) => void } | undefined;
};

export function PlanPlot({ plan, frame, moves }: PlanProps) {
  const still = useRef<Scale | null>(null);
  if (plan.placed.length + plan.cameras.length === 0) return null;
  // While things are moved the drawing keeps its scale: nothing else may jump.
  still.current = moves ? (still.current ?? scaleOf(plan)) : null;
  const scale = still.current ?? scaleOf(plan);
  const unwanted = new Set(
    (frame?.things ?? [])
      .filter(({ state, wanted }) => (state === "in" || state === "edge") && !wanted)
      .map(({ record }) => record),
  );
  const is_boxed = (one: Placed) => unwanted.has(one.record);
  const boxed = plan.placed.filter(is_boxed);
  const frames = plan.placed.filter(({ what }) => what === "frame");
  const figures = [...plan.placed, ...plan.cameras].map((spot) => at(scale, spot));
  const taken = [
    ...frames.flatMap((one) => alongFrame(one, plan.beams, scale)),
    ...figures.map(({ x, y }) => ({ x: x - 7, y: y - 7, width: 14, height: 14 })),
    { x: 6, y: scale.height - 26, width: scale.per_m + 44, height: 24 },
  ];
  const strips = inFrame(plan.placed, scale, is_boxed);
  const labels = [...strips, ...camerasNamed(plan, scale), ...namesOf(plan.placed, scale, is_boxed)];
  const laid = layLabels(labels, { x: 0, y: 0, width: WIDTH, height: scale.height }, taken);
  const is_strip = (one: Laid) => unwanted.has(one.key);
  return (
    <section class="pic" aria-label={w.title}>
      <svg
        class="plan"
        viewBox={`0 0 ${WIDTH} ${scale.height}`}
        role={moves ? "group" : "img"}
        aria-label={planWords(plan, boxed)}
      >
        <rect width={WIDTH} height={scale.height} class="floor" />
        <LinesOfFrame plan={plan} scale={scale} />
        {plan.placed
          .filter(({ what }) => what === "dressing")
          .map((one) => (
            <Figure key={one.record} placed={one} beams={plan.beams} scale={scale} />
          ))}
        {plan.beams.map((beam) => (
          <Throw key={beam.key} beam={beam} frames={frames} scale={scale} />
        ))}
        {plan.placed
          .filter(({ what }) => what !== "dressing")
          .map((one) => (
            <Figure key={one.record} placed={one} beams={plan.beams} scale={scale} />
          ))}
        <Cameras plan={plan} scale={scale} />
        {boxed.map((one) => {
          const { x, y } = at(scale, one);
          return (
            <path key={one.record} d={`M${x - 12} ${y - 12}h24v24h-24zl24 24m0 -24l-24 24`} class="xbox" />
          );
        })}
        <path d={`M12 ${scale.height - 14}v8h${scale.per_m}v-8`} class="cup" />
        {laid.map((one) => (
          <Leader key={one.key} laid={one} />
        ))}
        {moves && <Grabs {...moves} scale={scale} />}
        <text x={18 + scale.per_m} y={scale.height - 6} class="lt">
          {w.metre}
        </text>
        {laid.map((one) =>
          is_strip(one) ? (
            <g key={one.key}>
              <path d={torn(one.left, one.top, one.width, one.height)} class="tapef" />
              <text x={one.left + one.width / 2} y={one.top + 16} text-anchor="middle" class="tapet">
                {apart(one.text)}
              </text>
            </g>
          ) : (
            <text key={one.key} x={one.left + one.width / 2} y={one.top + 12} text-anchor="middle" class="lt">
              {apart(one.text)}
            </text>
          ),
        )}
      </svg>
    </section>
  );
}
