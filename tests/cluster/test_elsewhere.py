"""Libraries that lie elsewhere, reached by fsspec: brought a folder at a time, and found the same as here."""

from pathlib import Path

import fsspec
import pytest

from planlang.checking.batch import Batch
from planlang.checking.shard import Judged
from planlang.cli.clustered import _at, _batches, _settings_here
from planlang.cli.files import grouped
from planlang.cli.linted import Call, books, lint_all
from planlang.cluster.anywhere import check_anywhere, read_anywhere
from planlang.cluster.listing import listed
from planlang.cluster.mirror import Mirror
from tests.cli.small_library import PLAIN, files

URL = "memory://national/clinic"


@pytest.fixture
def elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> dict[str, str]:
    """The same library in memory and in the folder where one stands."""
    held = {
        **files(),
        "people/d2.plan": PLAIN.replace("8 weeks", "9 weeks"),
        "people/f.plan": PLAIN.replace("P-104", "P-106").replace("  lasts", '  continues "d.plan"\n  lasts'),
        "people/out.plan": PLAIN.replace("P-104", "P-107").replace("  lasts", '  continues "../../../x.plan"\n  lasts'),
        "people/.old.plan": "no plan",
        "drafts/g.plan": PLAIN.replace("P-104", "P-108"),
    }
    held["clinic.yaml"] += "ignore: [drafts/]\n"
    memory = fsspec.filesystem("memory")
    for name, text in held.items():
        memory.pipe_file(f"/national/clinic/{name}", text.encode())
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    monkeypatch.chdir(tmp_path)
    yield held
    memory.rm("/national", recursive=True)


def found_at(url: str, shards: str) -> list[Judged]:
    batches = list(_batches(_at(url), Call(), shards))
    assert all(isinstance(batch, Batch) for batch in batches)
    return [one for batch in batches for one in read_anywhere(check_anywhere(batch).shard)]


def found_here(folder: Path) -> list[Judged]:
    folder.mkdir()
    return [one for summary in lint_all(grouped(["."]), Call(), folder) for one in read_anywhere(summary.shard)]


def told(found: list[Judged], base: str) -> list[tuple[object, ...]]:
    def places(one: Judged) -> list[tuple[object, ...]]:
        return [(f.rule, f.message, f.span and f.source and f.source.place(f.span)) for f in one.findings]

    return [(one.name.removeprefix(base), one.person, places(one)) for one in found]


def test_files_are_listed_as_a_folder_here_would_be(elsewhere):
    assert listed(URL).root == URL
    assert [name.removeprefix(f"{URL}/") for name in listed(URL).names] == [n for g in grouped(["."]) for n in g.names]


def test_the_library_of_a_folder_in_it_is_found_above(elsewhere):
    found = listed(f"{URL}/people")
    assert found.root == URL
    assert all(name.startswith(f"{URL}/people/") for name in found.names)


def test_what_is_found_elsewhere_is_what_is_found_here(elsewhere, tmp_path):
    here = found_here(tmp_path / ".shards")
    assert len(here) == 11
    assert told(found_at(URL, "memory://national/found"), f"{URL}/") == told(here, "")
    assert told(found_at(URL, str(tmp_path / ".shards")), f"{URL}/") == told(here, "")


def test_shards_elsewhere_are_whole_and_alone(elsewhere):
    found_at(URL, "memory://national/found")
    names = fsspec.filesystem("memory").ls("/national/found", detail=False)
    assert names
    assert all(name.endswith(".jsonl") for name in names)


def test_the_settings_that_hold_elsewhere_are_read_here(elsewhere, tmp_path):
    (group,) = _at(URL)
    (book,) = books([_settings_here(group, tmp_path / "settings")], Call())
    assert {rule.pack for rule in book.rules} >= {"house"}


def test_only_what_is_named_is_brought(elsewhere, tmp_path):
    mirror = Mirror.of(URL, tmp_path / "mirror")
    mirror.bring(mirror.folder / "people")
    brought = {str(p.relative_to(mirror.folder)) for p in mirror.folder.rglob("*") if p.is_file()}
    assert "people/a.plan" in brought
    assert not any(name.startswith(("templates/", "drafts/")) for name in brought)


def test_a_name_that_leads_out_of_the_library_comes_to_lie_nowhere_else(elsewhere, tmp_path):
    mirror = Mirror.of(URL, tmp_path / "mirror")
    for name in (f"{URL}/../../../etc/passwd", f"{URL}/../x.plan", "/etc/passwd"):
        assert mirror.local(name).is_relative_to(mirror.folder)


def test_a_file_that_is_gone_when_it_is_asked_for_is_one_finding(elsewhere, tmp_path):
    batches = list(_batches(_at(URL), Call(), str(tmp_path / "shards")))
    (tmp_path / "shards").mkdir()
    fsspec.filesystem("memory").rm("/national/clinic/people/e.plan")
    found = [one for batch in batches for one in read_anywhere(check_anywhere(batch).shard)]
    gone = next(one for one in found if one.name.endswith("people/e.plan"))
    assert [f.message for f in gone.findings] == ["there is no such file"]
    assert len(found) == 11


def test_a_url_without_a_cluster_is_a_wrong_call(elsewhere, capsys):
    from planlang.cli.main import run

    assert run(["lint", URL]) == 2
    assert "--cluster" in capsys.readouterr().err
