"""What no test can judge: `python -m tests.people.look FOLDER` writes sheets as they are printed, to be looked at.

Needs what a bare machine hasn't: Chromium, and of poppler pdftoppm and pdftotext; and `npm ci` in tests/calendar/node.
Fails, and says so, where one is missing, where axe-core finds anything in the real browser, contrast included, or where
the words of a PDF are not those of its page in the same order. Then prints how easily twenty drawn sheets are read.
"""

from __future__ import annotations

import html as escaping
import json
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from hypothesis import HealthCheck, given, settings

from planlang.people.sheet.blocks import Sheet
from planlang.people.sheet.html import html
from planlang.people.sheet.pdf import pdf
from planlang.text.languages.words import words
from tests.calendar.made import stairs
from tests.people.grade import automated_readability, coleman_liau, lix, sentences_of
from tests.people.sheets import EXAMPLES, NODE, beds, plan_of, sheet_of, words_of
from tests.seeded.modest import modest_plans
from tests.seeded.modest_people import CONDITIONS

_QUIET = """--headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking
--disable-component-update --disable-sync --no-pdf-header-footer"""
QUIET = _QUIET.split()
RUN = """
<pre id="found"></pre><script>{axe}</script><script>
const told = (one) => [one.id, ...one.nodes.map((n) => `${{n.html.slice(0, 90)}}: ${{n.any[0]?.message}}`)];
axe.run(document.documentElement, {{exclude: ["#found"]}}).then((answer) => {{
  document.getElementById("found").textContent = JSON.stringify({{
    passes: answer.passes.map((one) => one.id), incomplete: answer.incomplete.map(told),
    violations: answer.violations.map(told)}});
}});</script>"""


FEW = settings(max_examples=4, derandomize=True, deadline=None, database=None, suppress_health_check=list(HealthCheck))


def tool(*names: str) -> str:
    """The path of a program by one of its names."""
    found = next((path for name in names if (path := shutil.which(name))), None)
    if found is None:
        raise SystemExit(f"this needs {' or '.join(names)}")
    return found


def browse(*arguments: str) -> str:
    """Chromium, with a new profile each time."""
    with tempfile.TemporaryDirectory() as profile:
        command = [
            tool("chromium", "chromium-browser", "google-chrome"),
            *QUIET,
            f"--user-data-dir={profile}",
            *arguments,
        ]
        return subprocess.run(command, capture_output=True, text=True, check=True, timeout=120).stdout


def sheets() -> dict[str, Sheet]:
    """Those that are looked at."""
    made = {path.stem: sheet_of(path.read_text("utf-8"), 5) for path in EXAMPLES}
    made["beds-large"] = sheet_of(beds(), 5, large=True)
    made["beds-easier"] = sheet_of(beds(), 4, rest=(4,))
    made["beds-back"] = sheet_of(beds(), 10, rest=(9,))
    made["stairs"] = sheet_of(stairs(), 3)
    for code in ("es", "ar", "he"):
        made[f"beds-{code}"] = sheet_of(beds(), 5, told=words(code))
    return made


def in_the_browser(name: str, one: Sheet, folder: Path) -> list[object]:
    """What axe-core finds in a sheet's page as it is laid out."""
    return axe_in_browser(name, html(one), folder)


def axe_in_browser(name: str, page: str, folder: Path) -> list[object]:
    """What axe-core finds in a page as it is laid out."""
    source = (NODE / "node_modules" / "axe-core" / "axe.min.js").read_text("utf-8").replace("</script", "<\\/script")
    path = folder / f"{name}-axe.html"
    path.write_text(page.replace("</body>", RUN.format(axe=source) + "</body>"), "utf-8")
    seen = browse("--dump-dom", "--virtual-time-budget=20000", path.as_uri())
    path.unlink()
    said = re.search(r'<pre id="found">(.*?)</pre>', seen, re.S)
    answer = json.loads(escaping.unescape(said[1])) if said and said[1] else None
    if answer is None or "color-contrast" not in answer["passes"]:
        raise SystemExit(f"{name}: axe-core gave no answer")
    print(f"{name}: {len(answer['passes'])} rules passed, {len(answer['violations'])} violated")
    for rule, *places in answer["incomplete"]:
        print(f"  not sure of {rule} at {len(places)} places, first {places[0]}")
    return answer["violations"]


def printed(name: str, one: Sheet, folder: Path) -> bool:
    """The page and the PDF as pictures; whether the words of both are the same, in order."""
    page, ours, theirs = (folder / f"{name}{ending}" for ending in (".html", ".pdf", "-page.pdf"))
    page.write_text(html(one), "utf-8")
    ours.write_bytes(pdf(one)[0])
    browse(f"--print-to-pdf={theirs}", page.as_uri())
    for path in (ours, theirs):
        subprocess.run([tool("pdftoppm"), "-r", "60", "-png", path, path.with_suffix("")], check=True)
    if one.direction == "rtl":
        return True  # pdftotext turns numbers round; the tags are looked at by a test
    text = subprocess.run([tool("pdftotext"), "-raw", ours, "-"], capture_output=True, text=True, check=True).stdout
    said = iter(text.split())
    lost = [word for word in words_of(html(one)) if word not in said]
    print(f"{name}: {len(lost)} words of the page are not in the PDF in order {lost[:8]}")
    return not lost


def read() -> None:
    """Grades of twenty drawn sheets."""
    lines_of_each: list[list[str]] = []
    for kind in sorted(CONDITIONS):

        @settings(
            max_examples=4, derandomize=True, deadline=None, database=None, suppress_health_check=list(HealthCheck)
        )
        @given(modest_plans(kind))
        def draw(text: str) -> None:
            if plan_of(text).starts is not None:
                lines_of_each.append([str(line) for line in sheet_of(text).lines()])

        draw()
    chosen = lines_of_each[:20]
    assert len(chosen) == 20
    for name, formula in (("ARI", automated_readability), ("Coleman-Liau", coleman_liau), ("LIX", lix)):
        grades = sorted(formula(lines) for lines in chosen)
        print(f"{name}: {grades[0]:.1f} to {grades[-1]:.1f}, middle {grades[10]:.1f}")
    longest = max((s for lines in chosen for s in sentences_of(lines)), key=len)
    print(f"longest sentence, {len(longest)} words: {' '.join(longest)}")


def main(folder: Path) -> int:
    """All of it; 1 where something was found."""
    folder.mkdir(parents=True, exist_ok=True)
    wrong = 0
    for name, one in sheets().items():
        found = in_the_browser(name, one, folder)
        for violation in found:
            print(f"  {violation}")
        wrong += bool(found) + (not printed(name, one, folder))
    read()
    print(f"now look at the pictures in {folder}")
    return int(wrong > 0)


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
