"""A real browser on a real server: Debian's chromium when it is there, else Playwright's own."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

import hatch_build

DEVICES: dict[str, dict[str, Any]] = {
    "phone": {
        "viewport": {"width": 390, "height": 844},
        "device_scale_factor": 2,
        "is_mobile": True,
        "has_touch": True,
    },
    "laptop": {"viewport": {"width": 1280, "height": 800}},
}
BROWSERS = ("chromium", "chromium-browser", "google-chrome")
# A desktop browser makes the popup of its address bar, a page of its own, ready in every window: a second of computing
# that no test looks at. The other names are what Playwright turns off as well; the browser heeds one such list alone.
TURNED_OFF = (
    "WebUIOmniboxPopup",
    "WebUIOmniboxAimPopup",
    "AvoidUnnecessaryBeforeUnloadCheckSync",
    "DestroyProfileOnBrowserClose",
    "HttpsUpgrades",
    "MediaRouter",
    "NetworkTimeServiceQuerying",
    "OptimizationHints",
    "PaintHolding",
    "PreconnectToSearch",
)


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args: dict[str, Any]) -> dict[str, Any]:
    """Launch the machine's own browser; without its sandbox, which root may not use."""
    own = next(filter(None, map(shutil.which, BROWSERS)), None)
    found = {"executable_path": own} if own else {}
    return {
        **browser_type_launch_args,
        **found,
        "args": ["--no-sandbox", f"--disable-features={','.join(TURNED_OFF)}"],
    }


@contextmanager
def devices(browser: Browser) -> Iterator[Callable[..., Page]]:
    """Open devices: `("phone")` or `("laptop")` gives a page with a storage of its own.

    An exception in a page, or one that the content security policy stopped, is a failure at the end.
    """
    contexts: list[BrowserContext] = []
    wrong: list[str] = []

    def open_one(kind: str = "phone", **options: Any) -> Page:
        settings = {**DEVICES[kind], "locale": "en-GB", "timezone_id": "Europe/London", **options}
        context = browser.new_context(**settings)
        context.on("weberror", lambda error: wrong.append(str(error.error)))
        context.on("console", lambda said: "Content Security Policy" in said.text and wrong.append(said.text))
        contexts.append(context)
        return context.new_page()

    try:
        yield open_one
    finally:
        for context in contexts:
            context.close()
    assert wrong == [], "\n".join(wrong)


@pytest.fixture
def open_device(browser: Browser) -> Iterator[Callable[..., Page]]:
    """Open one more device: `open_device("phone")` or `open_device("laptop")`; all are closed with the test."""
    with devices(browser) as open_one:
        yield open_one


@pytest.fixture
def phone(open_device: Callable[..., Page]) -> Page:
    """A phone's browser, 390 x 844, touched."""
    return open_device("phone")


@pytest.fixture
def second_phone(open_device: Callable[..., Page]) -> Page:
    """Another phone: it shares nothing with the first."""
    return open_device("phone")


@pytest.fixture
def laptop(open_device: Callable[..., Page]) -> Page:
    """The producer's laptop, 1280 x 800."""
    return open_device("laptop")


def accessibility_faults(page: Page, *, of_colour_only: bool = False) -> list[str]:
    """Return what axe-core finds wrong on the page as shown now: "rule: what (where)"."""
    if not page.evaluate("'axe' in window"):
        axe = hatch_build.PWA / "node_modules" / "axe-core" / "axe.min.js"
        page.evaluate(axe.read_text(encoding="utf-8") + "; undefined")
    asked = {"runOnly": ["cat.color"]} if of_colour_only else {}
    found = page.evaluate("async (asked) => (await axe.run(asked)).violations", asked)
    return [
        f"{fault['id']}: {fault['help']} ({', '.join(str(node['target']) for node in fault['nodes'])})"
        for fault in found
    ]
