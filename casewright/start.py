"""A commented description to start a new piece from."""

from pathlib import Path

from ground.errors import PackageError

STARTER = "piece.yaml"


def write_starter(folder: Path) -> Path:
    """Write ``FOLDER/piece.yaml``, named after the folder; give where it is.

    Raises:
        PackageError: there is one already, or the folder cannot be written.
    """
    from specs.starter import starter

    path = folder / STARTER
    name = " ".join(folder.resolve().name.replace("_", " ").replace("-", " ").split())
    text = starter(name.capitalize() or "My piece")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError:
        reason = "is there already" if folder.is_dir() else "cannot be made: a file is in its place"
        message = f"{path if folder.is_dir() else folder}: {reason}; name another folder"
        raise PackageError(message) from None
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        message = f"{folder}: cannot be written ({reason})"
        raise PackageError(message) from error
    return path
