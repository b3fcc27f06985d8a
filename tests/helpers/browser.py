"""A browser for the tests that look at pages, and the Node that drives it."""

import os
import shutil

import pytest

from exporters.page import viewer
from tests.helpers.readers import READERS

BROWSERS = ("chromium", "google-chrome", "chromium-browser")


def needed() -> tuple[str, str]:
    """Return Node and a browser; skip where one of them, or the viewer, lacks."""
    node = shutil.which("node")
    browser = next(filter(None, map(shutil.which, BROWSERS)), None)
    ready = (READERS / "node_modules" / "playwright-core").exists() and viewer() is not None
    if node is None or browser is None or not ready:
        reason = "no node, no Chromium or no viewer here; make test brings all but the browser"
        if os.environ.get("CI") == "true":
            pytest.fail(reason)
        pytest.skip(reason)
    return node, browser
