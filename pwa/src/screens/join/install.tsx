// Install first, then join inside: a tab and the installed app keep their data apart.
import { signal } from "@preact/signals";
import { words } from "../../words";

type InstallEvent = Event & { prompt(): Promise<unknown> };

/** What the browser offers, once it does. */
const install_event = signal<InstallEvent | null>(null);
addEventListener("beforeinstallprompt", (event) => {
  event.preventDefault();
  install_event.value = event as InstallEvent;
});
addEventListener("appinstalled", () => {
  install_event.value = null;
});

const agent = navigator.userAgent;
const is_ios = /iPhone|iPad|iPod/.test(agent) || (/Macintosh/.test(agent) && navigator.maxTouchPoints > 1);
const is_android = /Android/.test(agent);
const is_installed =
  matchMedia("(display-mode: standalone)").matches ||
  matchMedia("(display-mode: fullscreen)").matches ||
  (navigator as { standalone?: boolean }).standalone === true;

export const deviceName = (): string =>
  is_ios ? (/iPad|Macintosh/.test(agent) ? "iPad" : "iPhone") : is_android ? "Android phone" : "Laptop";

/** Whether to say "install first": on a phone, in a tab, where it can be done. */
export const asksToInstall = (): boolean => (is_ios || is_android) && !is_installed && isSecureContext;

export function InstallFirst({ code, onAnyway }: { code: string; onAnyway: () => void }) {
  const w = words.join;
  const offered = install_event.value;
  return (
    <div class="line">
      <b>{w.install_first}</b>
      <span class="n">{w.install_why}</span>
      <p class="para-in">{is_ios ? w.install_ios : w.install_android}</p>
      {code && (
        <p>
          {w.install_code} <b class="code">{code}</b>
        </p>
      )}
      <div class="btns">
        {offered && (
          <button type="button" class="btn solid" onClick={() => void offered.prompt()}>
            {w.install_do}
          </button>
        )}
        <button type="button" class="btn" onClick={onAnyway}>
          {w.anyway}
        </button>
      </div>
    </div>
  );
}

export const NotSecure = () =>
  isSecureContext ? null : (
    <p class="line" role="alert">
      <b>{words.join.insecure}</b>
      <span class="n">{words.join.insecure_do}</span>
    </p>
  );
