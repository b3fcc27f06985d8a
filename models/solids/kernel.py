"""Where the kernel's own troubles are caught: its exceptions have no class in common."""

import OCP.Standard
import OCP.StdFail

from ground.vectors import Vec

KERNEL_FAILURES: tuple[type[Exception], ...] = tuple(
    kind
    for module in (OCP.Standard, OCP.StdFail)
    for kind in vars(module).values()
    if isinstance(kind, type) and issubclass(kind, Exception)
)
"""Everything that the kernel throws."""


class KernelTrouble(Exception):  # noqa: N818  a trouble to be told as a BuildError, never shown
    """What is wrong with a solid that the kernel has made; ``at``: where, if that is known."""

    def __init__(self, reason: str, at: Vec | None = None) -> None:
        self.reason = reason
        self.at = at
        super().__init__(reason)
