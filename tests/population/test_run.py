"""Who works many buyers out makes no difference: engines, ends, and going on."""

import os
import signal
import subprocess
import sys
import time
import warnings
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path

import pytest

from scoring.errors import ScoringError
from scoring.population import engine, unit
from scoring.population.buyers import best, population_in
from scoring.population.folder import begun, columns_in
from scoring.population.run import populate, task_of
from tests.population.small import write_case

ROOT = Path(__file__).parents[2]
N_BUYERS, N_DRAWS, ROWS = 60, 40, 400  # units of ten buyers


@pytest.fixture(scope="module")
def case(tmp_path_factory):
    """Return the Task of a small template, in units of ten buyers."""
    folder = tmp_path_factory.mktemp("crowd")
    template = write_case(folder)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(unit, "ROWS", ROWS)
        yield task_of(template, folder / "machines", N_DRAWS)


@contextmanager
def threads(n_workers):
    """Yield an executor that is neither of the toolkit's two."""
    with ThreadPoolExecutor(n_workers) as executor:
        yield executor, n_workers


def files_of(case, folder, engine_of):
    """Return {name: bytes} of the folder that an engine fills."""
    done = []
    populate(case, N_BUYERS, folder, engine_of, done.append)
    assert sum(done) == N_BUYERS
    return {path.name: path.read_bytes() for path in Path(folder).iterdir()}


@pytest.fixture(scope="module")
def expected(case, tmp_path_factory):
    """Return the files that one thread writes."""
    return files_of(case, tmp_path_factory.mktemp("one"), threads(1))


@pytest.mark.parametrize("n_workers", [2, pytest.param(4, marks=pytest.mark.slow)])
def test_any_number_of_processes_writes_the_same(case, expected, tmp_path, n_workers):
    """Two and four workers give the same bytes as one does."""
    assert len(expected) == 1 + N_BUYERS * N_DRAWS // ROWS
    found = files_of(case, tmp_path, engine.processes(n_workers))
    assert found == expected


@pytest.mark.filterwarnings("ignore")
def test_two_workers_of_a_scheduler_write_the_same(case, expected, tmp_path):
    """Dask's executor on two local workers gives the same bytes."""
    from distributed import LocalCluster

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # a port or a dashboard that is taken
        with LocalCluster(
            n_workers=2, threads_per_worker=1, dashboard_address=None
        ) as cluster:
            engine_of = engine.scheduler(cluster.scheduler_address)
            assert files_of(case, tmp_path, engine_of) == expected


def test_no_scheduler_is_said():
    """An address at which nobody answers is told in a sentence."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(engine, "PATIENCE", 1)
        with pytest.raises(ScoringError, match="no scheduler answers there"):
            with engine.scheduler("tcp://127.0.0.1:1"):
                pass


def test_a_killed_run_goes_on(case, expected, tmp_path):
    """A run that SIGKILL ends, begun again, leaves the folder of one never ended."""
    template = write_case(tmp_path)
    command = [sys.executable, "-c", LITTLE_UNITS, "population", template]
    command += ["--buyers", N_BUYERS, "--draws", N_DRAWS, "--workers", 1, "--out"]
    ended = tmp_path / "ended"
    command = [str(part) for part in (*command, ended)]
    run = subprocess.Popen(
        command, cwd=ROOT, start_new_session=True, stderr=subprocess.DEVNULL
    )
    while not list(ended.glob("buyers-*")):
        assert run.poll() is None, "it ended before it could be killed"
        time.sleep(0.002)
    os.killpg(run.pid, signal.SIGKILL)
    run.wait()
    assert len(list(ended.iterdir())) < len(expected)
    (ended / ".buyers-000003.parquet.x").write_bytes(b"half a file")
    assert files_of(case, ended, threads(1)) == expected


LITTLE_UNITS = """\
from scoring.population import unit

unit.ROWS = 400

if __name__ == "__main__":
    from scoring.__main__ import main

    main()
"""


def test_a_folder_of_another_run_is_left_alone(case, expected, tmp_path):
    """Other buyers, draws or seeds, and other things there, are told; nothing moves."""
    populate(case, N_BUYERS, tmp_path / "a", threads(1), lambda n: None)
    with pytest.raises(ScoringError, match=r"begun with another buyers \(60\)"):
        populate(case, 2 * N_BUYERS, tmp_path / "a", threads(1), lambda n: None)
    (tmp_path / "b").mkdir()
    (tmp_path / "b" / "letter.txt").write_text("mine")
    with pytest.raises(ScoringError, match="holds other things"):
        begun(tmp_path / "b", {})
    with pytest.raises(ScoringError, match=r"no population\.json in it"):
        columns_in(tmp_path / "b")


def test_what_is_done_can_be_shown(case, expected, tmp_path):
    """A folder in which units lack tells of those that are there."""
    populate(case, N_BUYERS, tmp_path, threads(1), lambda n: None)
    sorted(tmp_path.glob("buyers-*"))[-1].unlink()
    population = population_in(tmp_path)
    assert (len(population), population.n_asked) == (N_BUYERS - 10, N_BUYERS)
    assert set(best(population)) <= {-1, 0, 1}
    (tmp_path / "buyers-000000.parquet").write_bytes(b"no Parquet")
    with pytest.raises(ScoringError, match="cannot be read"):
        population_in(tmp_path)
