"""Batches and shards: what comes back is what was found, and a batch done twice or half leaves one whole shard."""

import json
import pickle
from pathlib import Path

import pytest
from attrs import evolve

from planlang.checking.batch import Batch, Summary, check_batch, written
from planlang.checking.file import Run, check_file
from planlang.checking.shard import read_shard
from planlang.checking.walk import files_in
from planlang.text.finding import Finding, Level
from tests.cli.small_library import PLAIN, write_library


@pytest.fixture
def names(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[str, ...]:
    root = tmp_path / "clinic"
    write_library(root)
    (root / "people" / "faulty.plan").write_text(
        PLAIN.replace("P-104", "P-110").replace("do heel-raise", "do heel-raise, no-such-thing")
        + 'waive no-review by T-03 because "seen weekly" until 2027-06-01\n',
        "utf-8",
    )
    (root / "people" / "from.plan").write_text(
        'plan "From"\n  for P-111, aged 70\n  from template "../templates/base.plan"\n  fill rounds 9\n', "utf-8"
    )
    (root / "people" / "broken.plan").write_text('plan "Broken"\r\n  lasts 8 mnths\r\n\ttell "Über" 5\r\n', "utf-8")
    (root / "people" / "p.diary").write_text("diary for P-104\n2027-03-01 pain 3/10\n2027-03-01 nonsense\n", "utf-8")
    monkeypatch.chdir(root)
    return tuple(files_in(Path(), settings=True))


def as_told(finding: Finding) -> tuple[object, ...]:
    """All that a report says of a finding, places by line and column, with the line that is shown."""

    def place(source, span):
        if source is None or span is None:
            return source and source.name
        at = source.place(span)
        return source.name, at, source.line(at.line)

    related = [(one.message, place(one.source or finding.source, one.span)) for one in finding.related]
    return (
        *(
            finding.rule,
            finding.level,
            finding.message,
            finding.advice,
            finding.sources,
            finding.waived,
            finding.blocks,
        ),
        place(finding.source, finding.span),
        related,
    )


def test_a_shard_says_all_that_was_found(names, tmp_path):
    check_batch(Batch(names, str(tmp_path / "s.jsonl")))
    there = {one.name: [as_told(f) for f in one.findings] for one in read_shard(tmp_path / "s.jsonl")}
    run = Run()
    here = {name: [as_told(f) for f in check_file(Path(name), run).findings] for name in names if "yaml" not in name}
    assert there == here
    assert sum(map(len, here.values())) > 30
    assert any(f[-1] for found in here.values() for f in found)


def test_a_summary_counts_what_the_shard_holds(names, tmp_path):
    summary = check_batch(Batch(names, str(tmp_path / "s.jsonl")))
    found = [f for one in read_shard(tmp_path / "s.jsonl") for f in one.findings]
    assert summary.files == len(list(read_shard(tmp_path / "s.jsonl")))
    assert summary.waived == sum(f.waived is not None for f in found) == 1
    assert dict(summary.found) == {
        level.value: n for level in Level if (n := sum(f.level is level and not f.waived for f in found))
    }
    assert summary.unreadable == sum(f.rule == "unreadable" for f in found) > 0
    assert summary.fails(frozenset())
    assert not evolve(summary, unreadable=0).fails(frozenset({Level.UNREALISTIC}))


def test_batches_and_summaries_go_from_one_process_to_another(names, tmp_path):
    batch = Batch(names, str(tmp_path / "s.jsonl"), packs=("own/rules",), codes={"people": {"P-104": ("d.plan",)}})
    assert pickle.loads(pickle.dumps(batch)) == batch
    summary = check_batch(evolve(batch, packs=()))
    assert pickle.loads(pickle.dumps(summary)) == summary
    assert pickle.loads(pickle.dumps(check_batch)) is check_batch


def test_a_batch_done_twice_leaves_the_same_shard(names, tmp_path):
    batch = Batch(names, str(tmp_path / "s.jsonl"))
    first = check_batch(batch)
    held = (tmp_path / "s.jsonl").read_bytes()
    assert check_batch(batch) == first
    assert (tmp_path / "s.jsonl").read_bytes() == held


def test_a_batch_keeps_nothing_that_the_files_do_not_say(names, tmp_path):
    batch = Batch(("people/d.plan",), str(tmp_path / "s.jsonl"))
    first = check_batch(batch)
    clinic = Path("clinic.yaml")
    clinic.write_text(clinic.read_text("utf-8") + "rules:\n  no-review: {off: we see everybody weekly}\n", "utf-8")
    assert check_batch(batch).off == {"no-review": "we see everybody weekly"}
    clinic.write_text(clinic.read_text("utf-8").split("rules:\n  no")[0], "utf-8")
    assert check_batch(batch) == first
    base = Path("templates/base.plan")
    other = Batch(("people/a.plan",), str(tmp_path / "o.jsonl"))
    before = check_batch(other)
    text = base.read_text("utf-8")
    base.write_text(text.replace("up to 4/10", "up to 8/10"), "utf-8")
    assert check_batch(other) != before
    base.write_text(text, "utf-8")
    assert check_batch(other) == before


def test_batches_together_come_to_what_one_does(names, tmp_path):
    whole = check_batch(Batch(names, str(tmp_path / "whole.jsonl")))
    total, rows = Summary(whole.shard), []
    for number in range(0, len(names), 3):
        shard = tmp_path / f"{number}.jsonl"
        total = total.plus(check_batch(Batch(names[number : number + 3], str(shard))))
        rows += shard.read_text("utf-8").splitlines()
    assert total == whole
    assert rows == (tmp_path / "whole.jsonl").read_text("utf-8").splitlines()


def test_a_fault_of_the_rules_is_told_and_writes_no_shard(names, tmp_path):
    Path("clinic.yaml").write_text("clinc: Made up\n", "utf-8")
    summary = check_batch(Batch(names, str(tmp_path / "s.jsonl")))
    assert "clinc" in summary.fault
    assert list(tmp_path.glob("*s.jsonl*")) == []


def test_what_is_written_half_is_not_there(tmp_path):
    target = tmp_path / "s.jsonl"
    target.write_text("as it was\n", "utf-8")

    def half() -> None:
        with written(target) as write:
            write("half of ")
            raise KeyError("and no more")

    with pytest.raises(KeyError):
        half()
    assert target.read_text("utf-8") == "as it was\n"
    assert [path.name for path in tmp_path.iterdir()] == ["s.jsonl"]


def test_names_are_seen_from_the_folder_that_is_said(names, tmp_path, monkeypatch):
    batch = Batch(names, str(tmp_path / "s.jsonl"))
    check_batch(batch)
    here = Path.cwd()
    monkeypatch.chdir(tmp_path)
    check_batch(evolve(batch, shard=str(tmp_path / "o.jsonl"), within=str(here)))
    assert (tmp_path / "o.jsonl").read_bytes() == (tmp_path / "s.jsonl").read_bytes()


def test_a_shard_holds_no_more_of_a_plan_than_lines_with_findings(names, tmp_path):
    check_batch(Batch(("people/d.plan",), str(tmp_path / "s.jsonl")))
    (row,) = map(json.loads, (tmp_path / "s.jsonl").read_text("utf-8").splitlines())
    told = {str(f[key]) for f in row["findings"] for key in ("line", "end_line")}
    assert set(row["lines"]["people/d.plan"]) == told - {"None"}
    assert row["person"] is True
