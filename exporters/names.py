"""Names and texts from the spec made safe for paths, tables, drawings and markup."""

import re
import unicodedata
from collections.abc import Iterable

LONGEST = 60
"""Characters that a file's name may have, its suffix not counted."""

# Kept for devices by one family of systems, in any case and before any suffix.
RESERVED = frozenset(
    ["con", "prn", "aux", "nul", "conin", "conout", "clock"]
    + [f"{port}{number}" for port in ("com", "lpt") for number in range(10)]
)

# Letters that do not fall apart into a plain letter and its marks. Two alphabets are spelt by the
# sound of each letter (from memory, after the common Latin spellings; no standard followed).
_SPELLINGS = """
ß=ss ẞ=SS æ=ae œ=oe ø=o ł=l đ=d ð=d þ=th ı=i ħ=h ŋ=ng
α=a β=v γ=g δ=d ε=e ζ=z η=i θ=th ι=i κ=k λ=l μ=m ν=n ξ=x ο=o π=p ρ=r σ=s ς=s τ=t υ=y φ=f χ=ch ψ=ps
ω=o а=a б=b в=v г=g д=d е=e ж=zh з=z и=i й=i к=k л=l м=m н=n о=o п=p р=r с=s т=t у=u ф=f х=kh ц=ts
ч=ch ш=sh щ=shch ъ= ы=y ь= э=e ю=yu я=ya є=ye і=i ґ=g
"""  # noqa: RUF001 - the letters that look like Latin ones are meant
_SPELT = dict(pair.split("=") for pair in _SPELLINGS.split())
_APOSTROPHES = "\N{LEFT SINGLE QUOTATION MARK}\N{RIGHT SINGLE QUOTATION MARK}"
_FORMULA = ("=", "+", "-", "@", "\N{FULLWIDTH EQUALS SIGN}", "\N{FULLWIDTH PLUS SIGN}",
            "\N{FULLWIDTH HYPHEN-MINUS}", "\N{FULLWIDTH COMMERCIAL AT}")  # fmt: skip
_NOT_IN_LAYERS = re.compile(r"[<>/\\\":;?*|=,`'%^{}]+")
_LONGEST_LAYER = 255


def plain(text: str) -> str:
    """``text`` on one line: no control characters, nothing that markup or a terminal obeys.

    Line ends and tabs become one space; characters that turn the reading direction, lone
    surrogates and places without a character are dropped.
    """
    kept = (
        " " if char in "\t\n\r\v\f\N{LINE SEPARATOR}\N{PARAGRAPH SEPARATOR}" else char
        for char in text
        if char in "\t\n\r\v\f" or unicodedata.category(char) not in ("Cc", "Cf", "Cs", "Cn", "Co")
    )
    return " ".join("".join(kept).split())


def latin(text: str) -> str:
    """``text`` in ASCII: marks dropped, other letters spelt out, ``u`` and the code at the worst.

    Signs without a spelling become a hyphen.
    """
    return "".join(map(_spelt, unicodedata.normalize("NFKD", text)))


def _spelt(char: str) -> str:
    if char.isascii():
        return char
    if char in _SPELT:
        return _SPELT[char]
    if char.lower() in _SPELT:
        return _SPELT[char.lower()].capitalize()
    kind = unicodedata.category(char)
    if kind.startswith("M") or char in _APOSTROPHES:
        return ""
    return f"u{ord(char):x}" if kind.startswith(("L", "N")) else "-"


def file_stem(text: str) -> str:
    """A file name without suffix: letters, digits, ``.`` and ``-``, never empty, never a device."""
    stem = re.sub(r"[^A-Za-z0-9.]+", "-", latin(text).replace("'", ""))
    stem = re.sub(r"\.{2,}", ".", stem).strip(".-")[:LONGEST].strip(".-")
    if not stem or stem.split(".")[0].casefold() in RESERVED:
        stem = f"part-{stem}".rstrip("-")
    return stem[:LONGEST].rstrip(".-")


def file_names(parts: Iterable[tuple[str, str]]) -> dict[str, str]:
    """The NAME of each part's files by its label, from pairs of label and name.

    No two are the same when case is ignored: a later one gets ``-2``, ``-3`` ...
    """
    names: dict[str, str] = {}
    taken: set[str] = set()
    for label, name in parts:
        stem = free = file_stem(f"{label}-{name}")
        count = 1
        while free.casefold() in taken:
            count += 1
            tail = f"-{count}"
            free = stem[: LONGEST - len(tail)].rstrip(".-") + tail
        taken.add(free.casefold())
        names[label] = free
    return names


def csv_cell(text: str) -> str:
    """A text cell of a table that no spreadsheet takes for a formula; numbers need no guard."""
    line = plain(text)
    return f"'{line}" if line.startswith(_FORMULA) else line


def dxf_text(text: str) -> str:
    """One line of TEXT that shows ``text`` as it is: no control code, no coded character."""
    return re.sub(r"\\(?=[UM]\+)", r"\\U+005C", _dxf_line(text))


def dxf_mtext(text: str) -> str:
    """One line of MTEXT that shows ``text`` as it is: no code, no stacking, no group."""
    line = re.sub(r"([\\{}])", r"\\\1", _dxf_line(text))
    # Readers decode \U+XXXX and \M+XXXX before they see that the backslash is doubled.
    return re.sub(r"\\\\(?=[UM]\+)", r"\\\\{}", line)


def _dxf_line(text: str) -> str:
    percents = re.sub("%{2,}", lambda run: "%%%" * len(run.group()), plain(text))
    # A caret starts a control code, and a reader that trims lines undoes the escape of the last.
    return percents.replace("^", "\N{MODIFIER LETTER CIRCUMFLEX ACCENT}")


def dxf_layer(text: str) -> str:
    """A layer's name: what DXF forbids in one, and what could start a code, becomes a hyphen."""
    name = re.sub("-(?: *-)+", "-", _NOT_IN_LAYERS.sub("-", plain(text))).strip(" -")
    return name[:_LONGEST_LAYER].rstrip(" -") or "UNNAMED"
