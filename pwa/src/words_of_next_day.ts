// Words of letting people onto a day, of making the next one, and of the days that one phone holds.
export const english_of_next_day = {
  title: "Make the next day",
  more: "Needs the server, for it hands out the codes by which phones join; all else goes without signal.",
  name: "Title of the new day",
  name_first: "Give the new day a title first.",
  like: "Like this one",
  empty: "An empty day",
  like_more:
    "Like this one: shots, light, stands, dressing, drinks, kit and crew come along; ticks, readings, takes, holds, notes, photographs and times do not.",
  failed: (why: string) => `No answer of a new day: ${why}. Try again; asked twice it is still one day.`,
  made: (title: string) => `${title} is made.`,
  once: "The codes are good for a week and shown once: hand them out or write them down now.",
  codes: { heads: "For heads of department", crew: "For everyone else" },
  open: "Open it on this phone",
  stays:
    "This day stays on this phone too, under Other days. What is unsent here goes out when it is open again.",
  invite: {
    title: "Let someone join",
    for_whom: "Departments of whoever gets the code",
    rank: "Who gets it",
    crew: "Crew",
    head: "Heads of department: may clear holds",
    make: "Make a code",
    choose: "Choose one department or more.",
    failed: (why: string) => `No code: ${why}. Try again where there is signal.`,
    until: (phones: number, when: string) =>
      `For ${phones} phones, until ${when} tomorrow. It is shown once.`,
  },
  others: "Other days on this phone",
  others_more: "One is open at a time, and only that one sends and hears.",
};
