"""Work for a cluster whose worker dies half-way through a batch, once; the marker says that it has."""

import os
import signal
from pathlib import Path

from planlang.checking.batch import Batch, Summary, run_of, written
from planlang.checking.file import check_file
from planlang.checking.shard import line_of
from planlang.cluster.anywhere import check_anywhere

MARKER = "PLANLANG_TEST_DIED"


def dies_once(batch: Batch) -> Summary:
    """Checks a batch; the first that has files called `e...` is half written, and then the worker is killed."""
    marker = Path(batch.shard).parent / MARKER
    if any("/e" in name for name in batch.names) and not marker.exists():
        run = run_of(batch)
        with written(Path(batch.shard)) as write:
            name = str(Path(batch.within, batch.names[0]))
            checked = check_file(Path(name), run)
            write(line_of(name, True, checked.source, checked.findings))
            marker.touch()
            os.kill(os.getpid(), signal.SIGKILL)
    return check_anywhere(batch)


def dies_always(batch: Batch) -> Summary:
    """Kills every worker that takes it."""
    os.kill(os.getpid(), signal.SIGKILL)
    return Summary(batch.shard)
