// A number for each build, the same for the same sources: what "this phone" and the report show.
import { createHash } from "node:crypto";
import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";

const SOURCES = [
  "index.html",
  "package-lock.json",
  "generated",
  "public",
  "service_worker",
  "src",
  "vite.config.ts",
];

function filesUnder(path: string): string[] {
  if (!statSync(path).isDirectory()) return [path];
  return readdirSync(path)
    .sort()
    .flatMap((name) => filesUnder(join(path, name)));
}

export function buildNumber(root: string): string {
  const hash = createHash("sha256");
  for (const source of SOURCES)
    for (const file of filesUnder(join(root, source))) hash.update(readFileSync(file));
  const { version } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
  return `${version}-${hash.digest("hex").slice(0, 8)}`;
}
