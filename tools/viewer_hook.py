"""The package's build step that makes the viewer: a wheel carries its scripts, git does not.

Says in plain words what is missing where it cannot; the wheel is built all the same, and the rest
of the program works without it.
"""

import importlib.util
from pathlib import Path
from types import ModuleType
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

HERE = Path(__file__).resolve().parent


def builder() -> ModuleType:
    """The script beside this one; a build backend does not find it by its name."""
    spec = importlib.util.spec_from_file_location("build_viewer", HERE / "build_viewer.py")
    assert spec is not None and spec.loader is not None  # noqa: S101, PT018 - it lies here
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


class ViewerHook(BuildHookInterface[Any]):
    """Builds the viewer before the files of a wheel are gathered."""

    PLUGIN_NAME = "custom"

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Build it where it is not there yet or older than its source."""
        del build_data
        if version == "editable":  # make does that by itself, where its messages are seen
            return
        viewer = builder()
        if viewer.is_fresh():
            return
        try:
            viewer.build()
        except viewer.MissingError as error:
            self.app.display_warning(f"{viewer.WITHOUT}: {error}")
