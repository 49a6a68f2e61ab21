// Words of the tour and of what a number is, part of words.ts. The meanings themselves come from the rules.
export const english_of_help = {
  numbers: "What these numbers mean",
  number: "What it is",
  formula: "Worked out:",
  source: "After:",
  none: "No number of that name.",
  none_do: "Open a shot: the end of each part says what its numbers mean.",
  safe: "Arithmetic from what was filled in. It never says that something is safe.",
  tour: {
    title: "How it works",
    open: "How it works, in three screens",
    of: (n: number, all: number) => `${n} of ${all}`,
    skip: "Skip",
    next: "Next",
    done: "Open the day",
    pages: [
      {
        title: "No signal needed",
        lines: [
          "What you tick or write is kept on this phone at once, and goes to the others when there is signal.",
          "The three facts at the bottom never leave: how much is unsent, when the server was last heard, whether this phone keeps it.",
          "NOT kept means just that. Hold the facts for two seconds for dim red or bright light.",
        ],
        marks: [],
      },
      {
        title: "Tick, and tick again",
        lines: [
          "List is your department’s work over all shots. It writes itself from the set.",
          "A tick remembers what it was for. When that moves, it asks again and says what moved and who moved it.",
        ],
        marks: [
          ["done", "done"],
          ["again", "tick again: its ground has moved"],
          ["two", "two answers: tap, then pick one"],
          ["unk", "nobody has said: never taken for done"],
        ],
      },
      {
        title: "Raise what stops you",
        lines: [
          "Raise is in the corner of every screen: a hold, a request, or a note, with a photograph.",
          "A hold that nobody else has says so: then use the radio.",
          "Tap a number to see what it is. Numbers are arithmetic: whether it is safe to roll, people decide.",
        ],
        marks: [["hold", "hold: everyone sees it first"]],
      },
    ] as { title: string; lines: string[]; marks: [mark: string, word: string][] }[],
  },
};
