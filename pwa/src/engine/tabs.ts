// Several tabs of one phone: telling each other of rows, one exchange at a time, one bell. All of it is for
// thrift only: without locks or channels every tab still ends with the same day.
const STEAL_MS = 30_000;

export type TabNews =
  | { told: "rows" }
  | { told: "shots"; shots: string[] }
  | { told: "exchange" }
  | { told: "forgotten" };

export class Tabs {
  private readonly channel: BroadcastChannel | null;

  constructor(
    private readonly day: string,
    hear: (news: TabNews) => void,
  ) {
    this.channel = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel(`tailslate.${day}`);
    if (this.channel) this.channel.onmessage = (message: MessageEvent<TabNews>) => hear(message.data);
  }

  tell(news: TabNews): void {
    this.channel?.postMessage(news);
  }

  close(): void {
    this.channel?.close();
  }

  /** Run one round alone. A tab that was frozen keeps its lock: after 30 s it is taken from it. */
  async alone<Result>(work: () => Promise<Result>): Promise<Result> {
    if (!navigator.locks) return work();
    const name = `tailslate.exchange.${this.day}`;
    let round: Promise<Result> | undefined;
    const start = (): Promise<Result> => {
      round = work();
      return round;
    };
    try {
      return await navigator.locks.request(name, { signal: AbortSignal.timeout(STEAL_MS) }, start);
    } catch (error) {
      if (round) return round; // another tab took the lock from this one: the round itself goes on
      const is_timeout = error instanceof DOMException && ["TimeoutError", "AbortError"].includes(error.name);
      if (!is_timeout) throw error;
    }
    try {
      return await navigator.locks.request(name, { steal: true }, start);
    } catch (error) {
      if (round) return round;
      throw error;
    }
  }

  /** Hold the bell's lock while `work` runs; waits for it until `cancel`. */
  async withBell(cancel: AbortSignal, work: () => Promise<void>): Promise<void> {
    if (!navigator.locks) return work();
    try {
      await navigator.locks.request(`tailslate.bell.${this.day}`, { signal: cancel }, work);
    } catch (error) {
      if (!cancel.aborted) throw error;
    }
  }
}
