// Whatever takes longer than a second says that it goes on.
import { useEffect, useState } from "preact/hooks";

const SLOW_MS = 1000;

/** True once something has been waited for longer than a second. */
export function useSlow(is_waiting: boolean): boolean {
  const [is_slow, setSlow] = useState(false);
  useEffect(() => {
    setSlow(false);
    if (!is_waiting) return;
    const timer = setTimeout(() => setSlow(true), SLOW_MS);
    return () => clearTimeout(timer);
  }, [is_waiting]);
  return is_slow;
}

export const Waiting = ({ sentence, is_going }: { sentence: string; is_going: boolean }) =>
  useSlow(is_going) ? (
    <span class="progress-in" role="status">
      {sentence} …
    </span>
  ) : null;

/** Run something, know whether it is going on, and get what went wrong as words. */
export function useGoing(): {
  is_going: boolean;
  failed: string;
  run: (what: () => Promise<unknown>) => Promise<void>;
} {
  const [is_going, setGoing] = useState(false);
  const [failed, setFailed] = useState("");
  const run = async (what: () => Promise<unknown>) => {
    setGoing(true);
    setFailed("");
    try {
      await what();
    } catch (error) {
      console.error(error);
      setFailed(error instanceof Error ? error.message : String(error));
    } finally {
      setGoing(false);
    }
  };
  return { is_going, failed, run };
}
