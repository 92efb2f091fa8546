"""What no test can judge: `python -m tests.people.look_review FOLDER` writes reviews as they are seen and printed.

Needs what tests.people.look needs. Fails where axe-core finds anything in the real browser, contrast included.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from tests.people.look import axe_in_browser, browse, tool
from tests.people.reviews import pages


def main(folder: Path) -> int:
    """All of it; 1 where something was found."""
    folder.mkdir(parents=True, exist_ok=True)
    wrong = 0
    for number, (name, page) in enumerate(pages().items()):
        path = folder / f"{number}-{name.replace(' ', '-')}.html"
        path.write_text(page, "utf-8")
        found = axe_in_browser(name, page, folder)
        for violation in found:
            print(f"  {violation}")
        wrong += bool(found)
        browse("--window-size=900,3400", f"--screenshot={path.with_suffix('.png')}", path.as_uri())
        browse(f"--print-to-pdf={path.with_suffix('.pdf')}", path.as_uri())
        paper = path.with_suffix(".pdf")
        subprocess.run([tool("pdftoppm"), "-r", "60", "-png", paper, path.with_suffix("")], check=True)
    print(f"now look at the pictures in {folder}")
    return int(wrong > 0)


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
