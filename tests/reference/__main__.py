"""``python -m tests.reference``: run the published checks and write their table into DEVELOPERS.md.

With arguments for pytest (``-k surface``) only some run; their rows are printed and the page stays as it is.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from tests.reference.table import ROWS, markdown

BEGIN, END = "<!-- held: begin, written by python -m tests.reference -->", "<!-- held: end -->"
HEADING = "## Held against the world"


def main() -> int:
    """Return 0 if all held."""
    here = Path(__file__).parent
    code = int(pytest.main(["-q", "-p", "no:cacheprovider", str(here), *sys.argv[1:]]))
    if len(sys.argv) > 1:
        print(markdown())
        return code
    page = here.parents[1] / "DEVELOPERS.md"
    text = page.read_text(encoding="utf-8")
    body = f"{BEGIN}\n{markdown()}\n{END}"
    if BEGIN in text:
        text = text[: text.index(BEGIN)] + body + text[text.index(END) + len(END) :]
    else:
        text = f"{text.rstrip()}\n\n{HEADING}\n\n{body}\n"
    page.write_text(text, encoding="utf-8")
    print(f"{len(ROWS)} lines written to {page.name}")
    return code


if __name__ == "__main__":
    sys.exit(main())
