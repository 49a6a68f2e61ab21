"""Draws the PNG icons in pwa/public from icon.svg, with the browser the tests use. Run it when icon.svg changes."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

from playwright.sync_api import sync_playwright

PUBLIC = Path(__file__).resolve().parent / "public"
# Phones round the corners themselves: only the plain icon keeps its own, and a maskable one stays in the inner 80 %.
ICONS = {
    "icon-192": (192, True),
    "icon-512": (512, True),
    "icon-maskable-512": (512, False),
    "apple-touch-icon": (180, False),
}


def draw() -> None:
    """Write every icon."""
    drawing = (PUBLIC / "icon.svg").read_text(encoding="utf-8")
    square = re.sub(r' rx="\d+"', "", drawing)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        for name, (side_px, rounded) in ICONS.items():
            page = browser.new_page(viewport={"width": side_px, "height": side_px})
            page.set_content(
                f"<style>body{{margin:0}}svg{{display:block}}</style>{drawing if rounded else square}"
            )
            page.screenshot(path=PUBLIC / f"{name}.png", omit_background=True)
        browser.close()


if __name__ == "__main__":
    draw()
