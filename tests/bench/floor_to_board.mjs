// From a tap on a floor phone to the producer's board: two browsers on one real server with the demonstration day.
import { spawn } from "node:child_process";
import fs from "node:fs";
import net from "node:net";
import os from "node:os";
import path from "node:path";

const SHOT = "12C";
const ROW = "Stand 3: bag it";
const WAIT_MS = 60_000;

const freePort = () =>
  new Promise((resolve) => {
    const listener = net.createServer().listen(0, "127.0.0.1", () => {
      const { port } = listener.address();
      listener.close(() => resolve(port));
    });
  });

/** Start `tailslate demo`; answers with its address, the join code of anyone, and how to end it. */
async function demonstration(folder) {
  const port = await freePort();
  const asked = [
    "demo",
    "--host",
    "127.0.0.1",
    "--port",
    String(port),
    "--database",
    path.join(folder, "day.sqlite"),
  ];
  const server = spawn(process.env.TAILSLATE ?? "tailslate", asked, { stdio: ["ignore", "pipe", "pipe"] });
  const codes = new Map();
  let said = "";
  await new Promise((resolve, reject) => {
    const hear = (bytes) => {
      said += bytes;
      for (const [, code, whom] of said.matchAll(/^\s*([A-Z0-9]{4}-[A-Z0-9]{4})\s+(.+)$/gm))
        codes.set(whom, code);
      if (codes.has("key grip") && codes.has("producer")) resolve();
    };
    server.stdout.on("data", hear);
    server.stderr.on("data", hear);
    server.on("exit", (code) => reject(new Error(`tailslate demo ended with ${code}:\n${said}`)));
  });
  return { url: `http://127.0.0.1:${port}`, codes, end: () => server.kill() };
}

async function joined(context, { url, codes }, whom, departments, where) {
  const page = await context.newPage();
  for (let tries = 0; ; tries++) {
    try {
      await page.goto(url);
      break;
    } catch (error) {
      if (tries > 100) throw error;
      await new Promise((resolve) => setTimeout(resolve, 100)); // it has printed its codes and is not up yet
    }
  }
  await page.waitForSelector("#app[data-opened]", { timeout: WAIT_MS });
  const request = { code: codes.get(whom), name: whom, role: whom, departments, device_name: whom };
  await page.evaluate((request) => tailslate.join(request), request);
  await page.evaluate((where) => {
    location.hash = where;
  }, where);
  return page;
}

/** When the board first says, or no longer says, that the grips have one thing left: wall time, ms. */
const seesLeft = (page, is_left) =>
  page.evaluate(
    ([shot, is_left, wait_ms]) =>
      new Promise((resolve, reject) => {
        const look = () => {
          const block = [...document.querySelectorAll(".board-shot")].find((one) =>
            one.textContent.startsWith(shot),
          );
          const has_left = !!block && /Grip 1 left/.test(block.textContent);
          if (!block || has_left !== is_left) return;
          watching.disconnect();
          clearTimeout(timer);
          resolve(Date.now());
        };
        const watching = new MutationObserver(look);
        watching.observe(document.body, { subtree: true, childList: true, characterData: true });
        const timer = setTimeout(() => reject(new Error("the tick did not arrive")), wait_ms);
        look();
      }),
    [SHOT, is_left, WAIT_MS],
  );

/** Times from a tap to the board, ms. `browser` opens a profile. */
export async function tickToBoard(browser, count) {
  const folders = ["server", "floor", "office"].map((name) =>
    fs.mkdtempSync(path.join(os.tmpdir(), `tailslate-bench-${name}-`)),
  );
  const server = await demonstration(folders[0]);
  const [floor, office] = [await browser(folders[1]), await browser(folders[2])];
  try {
    const phone = await joined(floor, server, "key grip", ["grip"], "#/list");
    const board = await joined(office, server, "producer", ["production"], "#/board");
    await phone.getByRole("button", { name: "Tick both again" }).click({ delay: 500, timeout: WAIT_MS });
    await seesLeft(board, true);
    const row = phone.getByRole("checkbox", { name: ROW, exact: true });
    const times = [];
    for (let place = 0; place < count; place++) {
      const seen = seesLeft(board, place % 2 === 1);
      await new Promise((resolve) => setTimeout(resolve, 1000)); // nobody ticks twice a second
      const tapped = await row.evaluate((one) => {
        one.click();
        return Date.now();
      });
      times.push((await seen) - tapped);
    }
    return times;
  } finally {
    await floor.close();
    await office.close();
    server.end();
    for (const folder of folders) fs.rmSync(folder, { recursive: true, force: true });
  }
}
