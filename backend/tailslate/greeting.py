"""What the server says when it starts: where to open it, how to join, what a phone needs to keep the app."""

from __future__ import annotations

import io
import socket
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import segno

ANY_ADDRESS = ("0.0.0.0", "::", "")  # compared with, not bound to
FAR_AWAY = (
    "192.0.2.1",
    9,
)  # RFC 5737: an address for documents; a datagram socket sends nothing by connecting


@dataclass(frozen=True)
class Code:
    """A join code and whom it is for."""

    whom: str
    code: str


def lan_address() -> str:
    """Return this machine's address on the network that it would use, '' when it is on none."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(FAR_AWAY)
        except OSError:
            return ""  # on no network: phones cannot reach it, and the greeting says so
        found = str(probe.getsockname()[0])
    return "" if found.startswith("127.") else found


def server_names(host: str, more: Iterable[str]) -> list[str]:
    """Return the names and addresses under which this server may be opened."""
    own = socket.gethostname()
    names = ["localhost", "127.0.0.1", "::1", own, *more, lan_address()]
    if "." not in own:
        names.append(f"{own}.local")
    if host not in ANY_ADDRESS:
        names.append(host)
    return [name for name in dict.fromkeys(names) if name]


def addresses(host: str, port: int, *, tls: bool) -> tuple[str, str]:
    """Return where to open the server on this machine, and from another one ('' when it cannot be reached)."""
    scheme = "https" if tls else "http"
    here = "127.0.0.1" if host in ANY_ADDRESS else host
    there = (
        lan_address()
        if host in ANY_ADDRESS
        else ""
        if host.startswith("127.") or host == "localhost"
        else host
    )
    return f"{scheme}://{here}:{port}", f"{scheme}://{there}:{port}" if there else ""


def greeting(
    *, here: str, there: str, day_title: str, codes: Sequence[Code], fingerprint: str, draws: bool
) -> str:
    """Return what to print.

    Args:
        here, there: as `addresses` gives them.
        day_title: of the day that the codes are for.
        codes: the first one is also drawn as a QR code.
        fingerprint: of the server's own certificate authority, '' when it has none.
        draws: whether the terminal can show block characters.
    """
    lines = ["", f"Tailslate: {day_title}", "", f"  On this machine   {here}"]
    lines.append(f"  On the network    {there or 'not reachable: start it with --host 0.0.0.0 on a network'}")
    about_phones = _about_phones(there, fingerprint)
    lines += ["", *about_phones] if about_phones else []
    if codes:
        lines += ["", "Join codes (good for 24 hours):"]
        lines += [f"  {one.code}   {one.whom}" for one in codes]
        link = f"{there or here}/join#{codes[0].code}"
        lines += ["", f"Scan to join ({codes[0].whom}): {link}"]
        if draws:
            lines += ["", _drawn(link)]
    else:
        lines += ["", "`tailslate invite` makes a join code."]
    return "\n".join([*lines, "", "Ctrl-C stops it.", ""])


def _about_phones(there: str, fingerprint: str) -> list[str]:
    if fingerprint:
        return [
            f"A phone keeps the app once it trusts this server: open {there or 'the address above'}/certificate on it",
            "and follow the steps there. The certificate's SHA-256 fingerprint, to compare:",
            f"  {fingerprint}",
        ]
    if not there:
        return []
    return [
        f"A phone can use {there} while it reaches this machine, but cannot install the app from it or keep it",
        "for use without signal: phones allow that only over https with a certificate they trust. Either start",
        "with --tls and trust this server's own certificate on each phone, or put a name with a real certificate",
        "in front. On this machine itself 127.0.0.1 counts as trusted, so everything works there.",
    ]


def _drawn(link: str) -> str:
    drawing = io.StringIO()
    segno.make(link, error="m", micro=False).terminal(drawing, compact=True)
    return drawing.getvalue()
