"""Work out many buyers of a template into a folder."""

import numpy as np

from scoring.answer.evaluation import FEWEST_DRAWS
from scoring.errors import ScoringError
from scoring.evidence.buyers import sampled
from scoring.inputs.files import read_bytes
from scoring.inputs.machine_folder import load_machines, sheets_in
from scoring.inputs.yaml_lines import MAX_BYTES
from scoring.population import engine
from scoring.population.buyers import population_of
from scoring.population.folder import asked_of, begun, keep_part, missing
from scoring.population.unit import ROWS, Task, read, units_of, worked

N_DRAWS = 200
ROWS_HERE = 2_000  # draws between two words of progress


def task_of(template, sheets, n_draws=N_DRAWS, seed=1):
    """Return the Task of a template's and sheets' sources; every fault is raised.

    Raises
    ------
    InputFaults, ScoringError
    """
    if not FEWEST_DRAWS <= n_draws <= ROWS:
        raise ScoringError(
            f"draws: {n_draws} is out of range; {FEWEST_DRAWS} to {ROWS}"
        )
    template = read_bytes(template, MAX_BYTES, "a YAML file")
    paths = sheets_in(sheets)
    load_machines(paths)  # tells what is wrong with all of them
    bytes_of = tuple(read_bytes(path, MAX_BYTES, "a YAML file") for path in paths)
    task = Task(template, bytes_of, n_draws, seed)
    read(task)
    return task


def worked_here(task, n_buyers, on_progress):
    """Return the Population of a Task, worked out here and kept nowhere.

    Parameters
    ----------
    on_progress : function (share done)
    """
    crowd, machines, _ = read(task)
    sample = sampled(crowd, n_buyers, task.seed)
    parts = []
    for unit in units_of(sample, task.n_draws, ROWS_HERE):
        parts.append(worked(task, unit))
        on_progress((unit.first + len(unit.kind)) / n_buyers)
    columns = {name: np.concatenate([p[name] for p in parts]) for name in parts[0]}
    return population_of(asked_of(task, crowd, machines, n_buyers), columns)


def populate(task, n_buyers, folder, engine_of, on_progress):
    """Work out what lacks in a folder.

    Parameters
    ----------
    engine_of : context manager of (executor, workers), as in `engine`
    on_progress : function (buyers done just now)
    """
    crowd, machines, _ = read(task)
    units = units_of(sampled(crowd, n_buyers, task.seed), task.n_draws)
    begun(folder, asked_of(task, crowd, machines, n_buyers))
    lacking = missing(folder, units)
    on_progress(n_buyers - sum(len(unit.kind) for unit in lacking))
    if not lacking:
        return

    def keep(unit, columns):
        keep_part(folder, unit, columns)
        on_progress(len(unit.kind))

    with engine_of as (executor, n_workers):
        engine.work_out(executor, n_workers, task, lacking, keep)
