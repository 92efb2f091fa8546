"""lint over a real cluster of this machine: the same findings as in one process, also where a worker dies half-way."""

import json
import signal
from collections.abc import Iterator
from pathlib import Path

import pytest

from planlang.checking.shard import Judged, read_shard
from planlang.cli.files import grouped
from planlang.cli.linted import Call, lint_all
from planlang.cli.main import run
from tests.cli.small_library import PLAIN, write_library
from tests.cluster.dying import MARKER, dies_always, dies_once

SECONDS = 60
"""How long any of these tests may take."""


@pytest.fixture(autouse=True)
def limit() -> Iterator[None]:
    """Ends a test that would wait for ever."""

    def late(*_: object) -> None:
        raise TimeoutError(f"this took longer than {SECONDS} seconds")

    before = signal.signal(signal.SIGALRM, late)
    signal.alarm(SECONDS)
    yield
    signal.alarm(0)
    signal.signal(signal.SIGALRM, before)


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    import dask
    from distributed import LocalCluster

    quiet = {"distributed.worker.daemon": True, "distributed.admin.log-format": "%(message)s"}
    with (
        dask.config.set(quiet),
        LocalCluster(
            n_workers=2,
            threads_per_worker=1,
            processes=True,
            host="127.0.0.1",
            dashboard_address=None,
            worker_dashboard_address=None,
            silence_logs=50,
        ) as cluster,
    ):
        yield cluster.scheduler_address


@pytest.fixture
def library(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    root = tmp_path / "clinic"
    write_library(root)
    for number in range(40):
        name = f"{'e' if number == 23 else 'm'}{number:02}"
        path = root / "people" / f"part-{number % 3}" / f"{name}.plan"
        path.parent.mkdir(exist_ok=True)
        path.write_text(PLAIN.replace("P-104", f"P-{200 + number}").replace("8 weeks", f"{5 + number} weeks"), "utf-8")
    (root / "people" / "broken.plan").write_text('plan "Broken"\n  lasts 8 mnths\n', "utf-8")
    (root / "people" / "latin.plan").write_bytes('plan "Über den Hügel"\n'.encode("latin-1"))
    monkeypatch.chdir(root)
    return root


def in_one_process(folder: Path) -> list[Judged]:
    folder.mkdir()
    summaries = list(lint_all(grouped(["."], settings=True), Call(), folder))
    return [one for summary in summaries for one in read_shard(Path(summary.shard))]


def as_data(found: list[Judged]) -> list[tuple[object, ...]]:
    """Everything of the findings, sources by name and place."""

    def places(one: Judged) -> list[object]:
        return [f.source and f.span and (f.source.name, f.source.place(f.span)) for f in one.findings]

    return [(one.name, one.person, one.findings, places(one)) for one in found]


def over_the_cluster(address: str, folder: Path, work=None) -> list[Judged]:
    from planlang.cli.clustered import _at, _batches
    from planlang.cluster.anywhere import check_anywhere
    from planlang.cluster.mapping import mapped

    folder.mkdir()
    made = list(_batches(_at("."), Call(), str(folder)))
    assert len(made) > 6
    summaries = list(mapped(made, address, work or check_anywhere))
    assert [summary.shard for summary in summaries] == [batch.shard for batch in made]
    return [one for summary in summaries for one in read_shard(Path(summary.shard))]


def test_a_cluster_finds_what_one_process_finds(library, address, tmp_path):
    assert as_data(over_the_cluster(address, tmp_path / "shards")) == as_data(in_one_process(tmp_path / "one"))


def test_a_worker_that_dies_half_way_loses_and_doubles_nothing(library, address, tmp_path):
    shards = tmp_path / "shards"
    found = over_the_cluster(address, shards, dies_once)
    assert (shards / MARKER).exists()
    names = [one.name for one in found]
    assert len(names) == len(set(names)) == 50
    assert as_data(found) == as_data(in_one_process(tmp_path / "one"))


def test_a_batch_that_kills_every_worker_is_given_up_in_a_sentence(library, address, tmp_path):
    from planlang.checking.batch import Batch
    from planlang.cluster.mapping import ClusterFails, mapped

    with pytest.raises(ClusterFails, match="died again and again on one batch"):
        list(mapped([Batch(("a.plan",), str(tmp_path / "s.jsonl"))], address, dies_always))


def test_the_command_reports_the_same(library, address, capsys):
    for format_ in ("json", "text"):
        assert run(["lint", ".", "--format", format_]) == 1
        plain = capsys.readouterr().out
        assert run(["lint", ".", "--format", format_, "--cluster", address]) == 1
        assert capsys.readouterr().out == plain


def test_shards_are_left_where_they_were_asked_for(library, address, tmp_path, capsys):
    where = tmp_path / "found"
    assert run(["lint", "people", "--cluster", address, "--shards", str(where), "--json"]) == 1
    answer = json.loads(capsys.readouterr().out)
    shards = sorted(where.iterdir())
    assert all(path.suffix == ".jsonl" for path in shards)
    rows = [json.loads(line) for path in shards for line in path.read_text("utf-8").splitlines()]
    assert len(rows) == answer["files"]
    assert [f["message"] for row in rows for f in row["findings"]].count("this file is empty") == 0
    assert sum(len(row["findings"]) for row in rows) == len(answer["findings"])


def test_a_fault_of_the_rules_is_a_wrong_call(library, address, capsys):
    (library / "clinic.yaml").write_text("clinc: Made up\n", "utf-8")
    assert run(["lint", ".", "--cluster", address]) == 2
    assert "clinc" in capsys.readouterr().err


def test_no_scheduler_at_the_address_is_said(library, monkeypatch, capsys):
    from planlang.cluster import mapping

    monkeypatch.setattr(mapping.mapped, "__defaults__", (mapping.check_anywhere, 0.5))
    assert run(["lint", ".", "--cluster", "tcp://127.0.0.1:1"]) == 2
    assert "There is no cluster at tcp://127.0.0.1:1" in capsys.readouterr().err


def test_a_cluster_elsewhere_has_to_be_told_where_findings_go(library, capsys):
    assert run(["lint", ".", "--cluster", "tcp://far.example:8786"]) == 2
    assert "--shards" in capsys.readouterr().err


def test_without_the_packages_it_says_which(library, monkeypatch, capsys):
    from planlang.cli import clustered

    monkeypatch.setattr(clustered, "find_spec", lambda name: None)
    assert run(["lint", ".", "--cluster", "tcp://127.0.0.1:1"]) == 2
    assert "pip install 'planlang[cluster]'" in capsys.readouterr().err
