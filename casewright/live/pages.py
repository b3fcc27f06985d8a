"""The pages of the live view as they come from the server: nothing from the spec is in them."""

LIVE, DRAWINGS = "live", "drawings"
"""The pages, and the scripts that they are made by."""


ICON = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32" fill="none" stroke="#1f6f68"'
    ' stroke-width="2.5" stroke-linejoin="round"><path d="M3 6h26v15H3zM12 6v15M20 6v15M12 13h8'
    'M7 21l-3 7M25 21l3 7"/></svg>'
)
"""A case on splayed legs, for the browser's tab."""


def page(which: str, title: str, body: str) -> bytes:
    """A page that asks for its script and its style sheet."""
    return (
        f'<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>{title}</title>\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f'<link rel="icon" href="files/icon.svg"><link rel="stylesheet" href="files/{which}.css">\n'
        f'<script defer src="files/{which}.js"></script></head>\n<body>{body}</body></html>\n'
    ).encode()


def live() -> bytes:
    """The piece, its numbers, what is found."""
    from exporters.page import skeleton

    return page(LIVE, "Casewright", f'<div id="news"></div>{skeleton("Casewright", "")}')


def drawings() -> bytes:
    """The drawings, one below the other."""
    return page(DRAWINGS, "Drawings", '<header id="head"></header><main id="sheets"></main>')
