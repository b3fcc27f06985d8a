"""Import the CAD kernel once, and name the system package when a shared library is missing."""

import re
import sys

PACKAGES = {
    "libGL.so": ("libgl1", "mesa-libGL"),
    "libEGL.so": ("libegl1", "mesa-libEGL"),
    "libX11.so": ("libx11-6", "libX11"),
    "libXext.so": ("libxext6", "libXext"),
    "libXrender.so": ("libxrender1", "libXrender"),
    "libXcursor.so": ("libxcursor1", "libXcursor"),
    "libXfixes.so": ("libxfixes3", "libXfixes"),
    "libXi.so": ("libxi6", "libXi"),
    "libXft.so": ("libxft2", "libXft"),
    "libXinerama.so": ("libxinerama1", "libXinerama"),
    "libxcb.so": ("libxcb1", "libxcb"),
    "libSM.so": ("libsm6", "libSM"),
    "libICE.so": ("libice6", "libICE"),
    "libfontconfig.so": ("libfontconfig1", "fontconfig"),
    "libfreetype.so": ("libfreetype6", "freetype"),
    "libexpat.so": ("libexpat1", "expat"),
    "libgomp.so": ("libgomp1", "libgomp"),
    "libstdc++.so": ("libstdc++6", "libstdc++"),
}
"""The start of a shared library's name -> its package in Debian or Ubuntu, and in Fedora."""


def advice(message: str) -> str:
    """Say what to install for the import error ``message``."""
    found = re.search(r"(lib[\w+.-]+\.so)[\w.]*: cannot open shared object", message)
    if found is None:
        return f"The CAD kernel cannot be loaded: {message}"
    library = found.group(1)
    if library not in PACKAGES:
        return f"The CAD kernel needs the system library {library}; install the package it is in."
    debian, fedora = PACKAGES[library]
    return (
        f"The CAD kernel needs the system library {library}, which is not installed.\n"
        f"  Debian, Ubuntu: apt-get install {debian}\n"
        f"  Fedora:         dnf install {fedora}\n"
        "Then run make again."
    )


def main() -> int:
    """Return 0 when the kernel loads, else 1 after saying why it does not."""
    try:
        import cadquery  # noqa: F401  imported to see whether it can be
    except ImportError as error:
        print(advice(str(error)), file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
