// Edits as lines, as a reply brings them: backend/tailslate/api/edit_lines.py says how one is written.
const SALT_LENGTH = 8;
const LINE = /^(\d+):?([a-z0-9]*),(-?\d+),(-?\d+),(\d+),/;

/** The canonical texts of a group's lines, in their order. */
export function textsOf(lines: string[], day: string, set: string): string[] {
  const incarnations: [name: string, counter: number][] = [];
  let at_ms = 0;
  return lines.map((line) => {
    const [head, who, name, step, at_step, version] = LINE.exec(line.slice(SALT_LENGTH)) ?? [];
    if (line.startsWith("[") || head === undefined) return line;
    if (name) incarnations.push([name, 0]);
    const of_author = incarnations[Number(who)];
    if (!of_author) return line; // no edit: the rules refuse it by name
    of_author[1] += Number(step);
    at_ms += Number(at_step);
    const [incarnation, counter] = of_author;
    const salt = line.slice(0, SALT_LENGTH);
    const rest = line.slice(SALT_LENGTH + head.length);
    return `[1,"${day}","${set}","${incarnation}",${counter},"${salt}",${version},${at_ms},${rest}]`;
  });
}
