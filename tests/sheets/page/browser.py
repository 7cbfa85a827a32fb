"""A browser for the tests of pages: the system's own, which asks nobody for anything."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, sync_playwright

PROGRAM = Path("/usr/bin/chromium")
# On a machine that checks every commit a missing browser is a failure, elsewhere a reason to skip.
needs_browser = pytest.mark.skipif(
    not PROGRAM.exists() and not os.environ.get("CI"), reason="chromium is not installed"
)


class Opened:
    """Pages in one browser, with all that they said and asked for."""

    def __init__(self, browser: Any) -> None:
        self._context = browser.new_context(accept_downloads=True)
        self.complaints: list[str] = []
        self.requests: list[str] = []

    def open(self, path: Path, width: int = 1200, height: int = 900) -> Page:
        page: Page = self._context.new_page()
        page.set_viewport_size({"width": width, "height": height})
        page.on("console", lambda message: self.complaints.append(message.text))
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("request", lambda request: self.requests.append(request.url))
        page.goto(path.as_uri())
        return page


@contextmanager
def chromium() -> Iterator[Opened]:
    """A browser with nothing open."""
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=str(PROGRAM), args=["--no-sandbox"])
        yield Opened(browser)
        browser.close()
