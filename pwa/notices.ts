// The licences of what the phone gets, gathered from the installed packages into notices.txt.
// Every package that is not a development tool counts as shipped: one too many does no harm.
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Plugin } from "vite";

type Package = { version: string; license?: string; dev?: boolean };
type Part = { part: string; spdx: string; copyright: string };

// Packages published without a licence file, and what is compiled into them. The holders are named in
// MicroPython's sources (LICENSE, lib/re1.5/re1.5.h, lib/uzlib/uzlib.h, read 2026) and Emscripten's; the texts are SPDX's.
const PARTS_OF: Record<string, Part[]> = {
  "@micropython/micropython-webassembly-pyscript": [
    { part: "MicroPython", spdx: "MIT", copyright: "Copyright (c) 2013-2025 Damien P. George" },
    {
      part: "re1.5",
      spdx: "BSD-3-Clause",
      copyright: "Copyright (c) 2007-2009 Russ Cox. Copyright (c) 2014 Paul Sokolovsky",
    },
    {
      part: "uzlib",
      spdx: "Zlib",
      copyright: "Copyright (c) 2003 Joergen Ibsen. Copyright (c) 2014-2018 Paul Sokolovsky",
    },
    { part: "Emscripten", spdx: "MIT", copyright: "Copyright (c) 2010-2025 Emscripten authors" },
    { part: "musl", spdx: "MIT", copyright: "Copyright (c) 2005-2020 Rich Felker and others" },
  ],
  // Named in the head of its bundled file; xz-embedded, by Lasse Collin and Igor Pavlov, is in the public domain.
  "xz-decompress": [
    { part: "xz-decompress", spdx: "MIT", copyright: "Copyright (c) 2023 Tim Perry" },
    { part: "xzwasm", spdx: "MIT", copyright: "Copyright (c) 2021 Steve Sanderson" },
    { part: "walloc", spdx: "MIT", copyright: "Copyright (c) 2020 Igalia, S.L." },
  ],
};

function partText(root: string, { part, spdx, copyright }: Part): string {
  const file = join(root, "node_modules", "spdx-license-list", "licenses", `${spdx}.json`);
  const { licenseText } = JSON.parse(readFileSync(file, "utf8")) as { licenseText: string };
  const body = licenseText
    .split("\n")
    .filter((line) => !/<(year|owner|copyright holders)>/.test(line))
    .join("\n");
  return `${part}: ${copyright}\n\n${body.trim()}`;
}

function licenceText(root: string, folder: string, name: string): string {
  const file = readdirSync(folder).find((entry) => /^(licen[cs]e|copying)(\.(md|txt))?$/i.test(entry));
  if (file) return readFileSync(join(folder, file), "utf8").trim();
  const parts = PARTS_OF[name];
  if (!parts) throw new Error(`${name} has no licence file; name its copyright holders in pwa/notices.ts`);
  return parts.map((part) => partText(root, part)).join("\n\n");
}

export function noticesText(root: string): string {
  const lock = JSON.parse(readFileSync(join(root, "package-lock.json"), "utf8")) as {
    packages: Record<string, Package>;
  };
  const shipped = Object.entries(lock.packages).filter(
    ([path, entry]) => path && !entry.dev && existsSync(join(root, path)),
  );
  const texts = shipped.map(([path, entry]) => {
    const name = path.slice(path.lastIndexOf("node_modules/") + "node_modules/".length);
    const heading = `${name} ${entry.version} (${entry.license ?? "licence below"})`;
    return `${heading}\n${"-".repeat(heading.length)}\n\n${licenceText(root, join(root, path), name)}\n`;
  });
  return `Tailslate contains these works of others, each under its own licence.\n\n${texts.join("\n\n")}`;
}

export function notices(): Plugin {
  let root = "";
  return {
    name: "notices",
    apply: "build",
    configResolved(config) {
      root = config.root;
    },
    generateBundle() {
      this.emitFile({ type: "asset", fileName: "notices.txt", source: noticesText(root) });
    },
  };
}
