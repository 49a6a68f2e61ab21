// Words of photographs, part of words.ts.
export const english_of_photographs = {
  title: "Photograph",
  of_many: "Photographs",
  take: "Take one",
  choose: "Choose one",
  without: "Without it",
  says: "What it shows",
  says_more: "For who cannot see it, and to find it by: “left glass, label to camera”.",
  needs_says: "Say what the photograph shows.",
  making: "Making it smaller",
  not_kept: {
    not_a_photograph:
      "This phone cannot read that as a picture. Take or choose another. Your words are still here.",
    too_many_pixels:
      "That picture has too many pixels for a phone. Take it at a lower setting, then choose it.",
    phone_full:
      "This phone is full: the picture is NOT kept. Make room and tap again, or go on without it. Your words are still here.",
    not_kept:
      "The picture is NOT kept: this browser stores nothing. Go on without it. Your words are still here.",
  } as { [code: string]: string },
  state: {
    fetching: "Fetching the picture.",
    not_here: "Picture not here yet. It comes once the phone that took it has signal.",
    no_signal: "Picture not here yet. It is fetched once there is signal.",
    not_allowed: "The server gives this phone no pictures. Ask production.",
    damaged: "What arrived is not this picture, so it is not shown.",
    phone_full: "This phone has no room for the picture. Make room, then fetch it.",
    small: "Only a small one is kept here.",
    whole: "",
  },
  again: "Fetch it",
  unsent: "unsent",
  sent: "sent",
  refused: "The server does not take it:",
  here_only: "It stays on this phone.",
  damaged_here: "This phone gave back other bytes than it kept. Take it again if you can.",
  pin: "Keep in full on this phone",
  pin_more: "Else it makes room when the room for pictures is used up. One that is unsent never does.",
  unpin: "Let it make room",
  unpin_more: "Kept in full on this phone, whatever the room for pictures.",
  colours: "Show its colours",
  colours_more: "Lights the screen up.",
  open: (says: string) => `Open the photograph: ${says}`,
  room: "Room for pictures on this phone",
  room_more: (held: string, unsent: number) =>
    `${held} MB held${unsent ? `, ${unsent} unsent` : ""}. The oldest that were sent make room; a small one stays.`,
  unsent_count: (n: number) => (n === 1 ? "1 picture unsent" : `${n} pictures unsent`),
  none_of: "of nothing that is on this phone",
};
