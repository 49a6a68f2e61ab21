// The workload: one made-up shooting day, the same for the same seed. 2,000 records of 8 fields, 8 devices, 10,000
// edits of one field each, some 5 % of them made without having seen another device's edit of the same field.
// The last 550: device 8 makes 50 without signal while the others make 500.

export const FIELDS = ["title", "hazard", "amount", "department", "place", "shot", "order", "note"];
export const HAZARDS = ["none", "overhead", "electric", "wind", "heat"];
const RECORDS = 2000;
const WORDS = (
  "red blue tall flat spare second left right window table cloth lamp stand cable chair door water tea glass paper " +
  "cart rope tape box bag rug wall plate cup hall stair yard gate bench book letter clock coat boot hat mirror basket shelf"
).split(" ");
const DEPARTMENTS = ["grip", "electric", "camera", "art", "props", "sound", "script", "production"];
const PLACES = "kitchen,hall,stairs,yard,truck 1,truck 2,green room,roof,corridor,street,store,office".split(
  ",",
);
const DEVICES = 8;
const REMOTE = 500;
const PENDING = 50;

/** Random numbers from 0 to 1, the same for the same seed (mulberry32). */
function randomOf(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/**
 * Returns { records, base, edits, hub, log, barrier, reconnect, before }:
 *  records: keys "kind/id"; base: key -> {field: value};
 *  an edit: { device 1..8, number per device, at_ms, record, field, value, seen: [[device, number], ...] };
 *  hub: edits as a server got them; log: {edit} and {sync: device} in order; `before` edits came before the last 550.
 */
export function makeDay(seed = 7, { scale = 1 } = {}) {
  const random = randomOf(seed);
  const whole = (below) => Math.floor(random() * below);
  const pick = (list) => list[whole(list.length)];
  const phrase = (low, high) =>
    Array.from({ length: low + whole(high - low + 1) }, () => pick(WORDS)).join(" ");
  const value_of = {
    title: () => phrase(2, 4),
    hazard: () => pick(HAZARDS),
    amount: () => String(1 + whole(12)),
    department: () => pick(DEPARTMENTS),
    place: () => pick(PLACES),
    shot: () => String(1 + whole(24)),
    order: () => whole(1000),
    note: () => (random() < 0.25 ? "" : phrase(1, 9)),
  };
  const base = {};
  for (let place = 1; place <= RECORDS * scale; place++) {
    base[`task/t-${String(place).padStart(4, "0")}`] = Object.fromEntries(
      FIELDS.map((field) => [field, value_of[field]()]),
    );
  }
  const records = Object.keys(base);
  const weights = {
    hazard: 0.6,
    note: 0.18,
    amount: 0.08,
    department: 0.06,
    place: 0.04,
    title: 0.02,
    order: 0.02,
  };
  const pickField = () => {
    let left = random();
    for (const [field, weight] of Object.entries(weights)) {
      left -= weight;
      if (left < 0) return field;
    }
    return "hazard";
  };
  const cell = (record, field) => `${record}/${field}`;
  const hub = [];
  const edits = [];
  const log = [];
  const values = new Map();
  const devices = Array.from({ length: DEVICES + 1 }, (_, device) => ({
    device,
    number: 0,
    pulled: 0,
    unsent: [],
    heads: new Map(),
    left: 0,
    is_off: false,
  }));
  const heads = (device, name) => device.heads.get(name) ?? [[0, 0]];
  const apply = (device, edit) => {
    const name = cell(edit.record, edit.field);
    const seen = new Set(edit.seen.map(String));
    const kept = heads(device, name).filter((one) => !seen.has(String(one)));
    device.heads.set(name, [...kept, [edit.device, edit.number]]);
  };
  const sync = (device) => {
    log.push({ sync: device.device });
    hub.push(...device.unsent);
    device.unsent = [];
    for (; device.pulled < hub.length; device.pulled++) {
      if (hub[device.pulled].device !== device.device) apply(device, hub[device.pulled]);
    }
  };
  let now_ms = Date.UTC(2026, 5, 1, 6, 0, 0);
  const unknownTo = (device) => [
    ...hub.slice(device.pulled).filter((edit) => edit.device !== device.device),
    ...devices.filter((other) => other.device && other !== device).flatMap((other) => other.unsent),
  ];
  const makeEdit = (device) => {
    now_ms += 1000 + whole(6000);
    const unknown = unknownTo(device);
    let record;
    let field;
    if (unknown.length && random() < 0.027) ({ record, field } = pick(unknown));
    else {
      const taken = new Set(unknown.map((edit) => cell(edit.record, edit.field)));
      do {
        record = pick(records);
        field = pickField();
      } while (taken.has(cell(record, field)));
    }
    const seen = heads(device, cell(record, field)).slice();
    const known = new Set(
      seen.map((one) => JSON.stringify(one[0] ? values.get(String(one)) : base[record][field])),
    );
    let value;
    do value = value_of[field]();
    while (known.has(JSON.stringify(value))); // never what its author already sees
    const edit = {
      device: device.device,
      number: ++device.number,
      at_ms: now_ms,
      record,
      field,
      value,
      seen,
    };
    values.set(`${edit.device},${edit.number}`, value);
    edits.push(edit);
    device.unsent.push(edit);
    apply(device, edit);
    log.push({ edit });
  };
  const pickDevice = (highest) => {
    const weight = [0, 20, 18, 15, 13, 12, 10, 7, 5];
    let left = random() * weight.reduce((sum, one) => sum + one);
    for (let device = 1; device <= DEVICES; device++) {
      left -= weight[device];
      if (left < 0) return device <= highest ? device : 1 + whole(highest);
    }
    return 1;
  };
  const step = (highest) => {
    const device = devices[pickDevice(highest)];
    if (device.left-- <= 0) {
      if (device.is_off) sync(device);
      device.is_off = random() < 0.5;
      device.left = device.is_off ? 20 + whole(80) : 10 + whole(50);
    }
    if (!device.is_off) sync(device);
    makeEdit(device);
    if (!device.is_off) sync(device);
  };
  const before = 10_000 - REMOTE - PENDING;
  for (let count = 0; count < before; count++) step(DEVICES);
  for (let twice = 0; twice < 2; twice++) for (const device of devices.slice(1)) sync(device);
  const barrier = log.length;
  const plan = Array(REMOTE).fill(false);
  for (let count = 0; count < PENDING; count++) plan.splice(whole(plan.length + 1), 0, true);
  for (const is_pending of plan) is_pending ? makeEdit(devices[DEVICES]) : step(DEVICES - 1);
  for (let twice = 0; twice < 2; twice++) for (const device of devices.slice(1, DEVICES)) sync(device);
  const reconnect = log.length;
  for (let twice = 0; twice < 2; twice++) for (const device of devices.slice(1).reverse()) sync(device);
  const oracle = new Map([...devices[1].heads].map(([name, some]) => [name, some.map(String).sort()]));
  return { records, base, edits, hub, log, barrier, reconnect, before, oracle, devices: DEVICES };
}
