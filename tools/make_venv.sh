#!/bin/sh
# Make a virtual environment at $1 with the first Python found that is new enough, or say in plain words what is missing.
set -u
target=$1

usable() {
    command -v "$1" >/dev/null 2>&1 &&
        "$1" -c 'import sys; sys.exit(not (3, 11) <= sys.version_info[:2] <= (3, 14))' 2>/dev/null
}

chosen=
for candidate in ${PYTHON:-} python3 python3.13 python3.12 python3.11 python3.14 python; do
    if usable "$candidate"; then
        chosen=$candidate
        break
    fi
done
if [ -z "$chosen" ]; then
    echo "Casewright needs Python 3.11, 3.12, 3.13 or 3.14, and none of them was found." >&2
    echo "Debian and Ubuntu: apt-get install python3 python3-venv.  Fedora: dnf install python3." >&2
    echo "If it lies somewhere else: make PYTHON=/path/to/python3 demo" >&2
    exit 1
fi

echo "Making $target with $("$chosen" --version) ..."
if ! "$chosen" -m venv "$target"; then
    rm -rf "$target"
    echo "$chosen cannot make a virtual environment; see the message above." >&2
    echo "Debian and Ubuntu keep that part apart: apt-get install python3-venv" >&2
    exit 1
fi
