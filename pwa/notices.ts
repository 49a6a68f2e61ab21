// The licences of what the phone gets, gathered from the installed packages into notices.txt.
// Every package that is not a development tool counts as shipped: one too many does no harm.
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Plugin } from "vite";

type Package = { version: string; license?: string; dev?: boolean; optional?: boolean };

// Packages published without a licence file: their copyright line stands above the MIT text, which is the same for all.
const COPYRIGHT_OF: Record<string, string> = {
  "@micropython/micropython-webassembly-pyscript": "Copyright (c) 2013-2025 Damien P. George",
};

function licenceText(root: string, folder: string, name: string): string {
  const file = readdirSync(folder).find((entry) => /^(licen[cs]e|copying)(\.(md|txt))?$/i.test(entry));
  if (file) return readFileSync(join(folder, file), "utf8");
  const copyright = COPYRIGHT_OF[name];
  if (!copyright) throw new Error(`${name} has no licence file; add its copyright line to pwa/notices.ts`);
  const mit = readFileSync(join(root, "..", "backend", "LICENSE.txt"), "utf8");
  return mit.replace(/^Copyright .*$/m, copyright);
}

export function noticesText(root: string): string {
  const lock = JSON.parse(readFileSync(join(root, "package-lock.json"), "utf8"));
  const packages: [string, Package][] = Object.entries(lock.packages);
  const shipped = packages.filter(([path, entry]) => path && !entry.dev && existsSync(join(root, path)));
  const texts = shipped.map(([path, entry]) => {
    const name = path.slice(path.lastIndexOf("node_modules/") + "node_modules/".length);
    const heading = `${name} ${entry.version} (${entry.license ?? "see below"})`;
    return `${heading}\n${"-".repeat(heading.length)}\n\n${licenceText(root, join(root, path), name).trim()}\n`;
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
