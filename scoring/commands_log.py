"""Commands for jobs done: a job log, sellers' claims, predicted against lived."""

from pathlib import Path

import click

from scoring.command_faults import faults_to_stderr
from scoring.command_options import (
    evaluated,
    machines_option,
    print_json,
    seed_option,
    table_or_json,
)
from scoring.errors import InputFaults, ScoringError

DEFAULT_MACHINES = "profiles/machines"


@click.command()
@click.argument("logs", nargs=-1)
@click.option("--machine", help="The machine that the jobs were done with.")
@click.option("--brief", help="The brief that the log may change.")
@click.option("--out", help="Folder for sheet and brief; with --pool, a file.")
@click.option("--pool", is_flag=True, help="Learn from several logs by many sellers.")
@click.option("--priors", help="What was learnt before, such as by --pool.")
@click.option("--template", is_flag=True, help="Print a table to fill in.")
@table_or_json
@machines_option
@faults_to_stderr
def log(logs, machine, brief, out, pool, priors, template, form, folder):
    """Learn from a table of jobs done, and say what it would change."""
    if template:
        click.echo(_template(brief), nl=False)
    elif pool:
        _pool(logs, machine, brief, out, priors, _folder(brief, folder))
    elif len(logs) != 1:
        raise ScoringError("log: one table of jobs done; several with --pool")
    else:
        _one(logs[0], machine, brief, out, priors, form, _folder(brief, folder))


def _template(brief):
    from scoring.inputs.brief_files import load_brief
    from scoring.inputs.job_log import job_log_template

    kinds = () if brief is None else [job.name for job in load_brief(brief).work]
    return job_log_template(kinds)


def _folder(brief, folder):
    from scoring.inputs.machine_folder import folder_beside

    if folder is not None:
        return folder
    return DEFAULT_MACHINES if brief is None else folder_beside(brief)


def _loaded(*loads):
    """Return what each (function, source) reads, or raise the faults of all."""
    faults, found = [], []
    for load, source in loads:
        try:
            found.append(None if source is None else load(source))
        except InputFaults as wrong:
            faults += wrong.faults
    if faults:
        raise InputFaults(faults)
    return found


def _one(source, name, brief_file, out, priors, form, folder):
    """Print what one log tells; with a folder, write what it changes."""
    from dataclasses import asdict

    from scoring.inputs.brief_files import load_brief
    from scoring.inputs.claims import load_claims
    from scoring.inputs.job_log import load_job_log
    from scoring.inputs.machine_folder import load_machines
    from scoring.questions.job_log import from_log
    from scoring.records.job_log import job_log_record
    from scoring.text.job_log import job_log_text

    if name is None:
        raise ScoringError("--machine: which machine the jobs were done with")
    done, brief, machines, known = _loaded(
        (load_job_log, source),
        (load_brief, brief_file),
        (load_machines, folder),
        (load_claims, priors),
    )
    before = None if known is None else known.learnt
    names = [machine.name for machine in machines]
    found = from_log(done, _named(machines, name), brief, before, names)
    written = [] if out is None else _write(found, machines, out)
    if form == "json":
        print_json(asdict(job_log_record(found)))
    else:
        click.echo(job_log_text(found, written))


def _named(machines, name):
    """Return the machine of that name; ScoringError if there is none."""
    from scoring.errors import shown
    from scoring.inputs.quantity import nearest

    names = [machine.name for machine in machines]
    if name not in names:
        near = nearest(name, names)
        known = ", ".join(names)
        raise ScoringError(f"--machine: none is called {shown(name)}{near}; {known}")
    return machines[names.index(name)]


def _write(found, machines, out):
    """Write sheets, brief and what lies beside it; return what is said of them."""
    from scoring.inputs.files import beside, read_bytes
    from scoring.inputs.written import check_folder, write, write_bytes
    from scoring.questions.job_log import BRIEF, SHEET
    from scoring.questions.log_taken_over import taken_over

    root = Path(out)
    texts = {"machines": {Path(m.source).name: m.text for m in machines}}
    texts["machines"][Path(found.machine.source).name] = taken_over(found, SHEET)
    copies = {}
    if found.brief is not None:
        source = Path(found.brief.source)
        texts["briefs"] = {source.name: taken_over(found, BRIEF)}
        named = [found.brief.leads, *(job.artwork for job in found.brief.work)]
        for name in filter(None, named):
            copies[name] = read_bytes(beside(source.parent, name), 50_000_000, "a file")
    inputs = [found.brief.source] if found.brief else []
    inputs += [machine.source for machine in machines]
    for folder, files in texts.items():
        check_folder(root / folder)
        for name in files:
            _check_new(root / folder / name, inputs)
    for folder, files in texts.items():
        for name, text in files.items():
            write(root / folder / name, text)
    for name, (_, data) in copies.items():
        check_folder((root / "briefs" / name).parent)
        write_bytes(root / "briefs" / name, data)
    changed = [root / "machines" / Path(found.machine.source).name]
    changed += [root / "briefs" / name for name in texts.get("briefs", {})]
    return [f"Written: {path}" for path in changed]


def _check_new(path, inputs):
    from scoring.inputs.written import check_writable

    check_writable(path, inputs)


def _pool(sources, name, brief_file, out, priors, folder):
    """Learn from several logs; write the file of what was learnt."""
    from scoring.evidence.claims import learnt
    from scoring.inputs.brief_files import load_brief
    from scoring.inputs.claims import claims_text, load_claims
    from scoring.inputs.job_log import load_job_log
    from scoring.inputs.machine_folder import load_machines
    from scoring.inputs.written import check_writable, write
    from scoring.questions.log_claims import far_off, pooled_ratios
    from scoring.text import job_log as text

    if not sources:
        raise ScoringError("log --pool: no table of jobs done; name one or more")
    if out:
        check_writable(out, [*sources, *filter(None, [priors])])
    brief, machines, known, *logs = _loaded(
        (load_brief, brief_file),
        (load_machines, folder),
        (load_claims, priors),
        *((load_job_log, source) for source in sources),
    )
    by_name = {machine.name: machine for machine in machines}
    found = pooled_ratios(logs, by_name, name, brief)
    claims = learnt(found, None if known is None else known.learnt)
    if not claims:
        raise ScoringError(
            "log --pool: nothing to learn: no figure that a seller quotes was timed in "
            "three jobs or more"
        )
    for one in found:
        if one.is_far:
            click.echo(f"{one.seller}, {one.key}: {far_off(one)}.", err=True)
    click.echo(text.claims_text(claims, with_sellers=True))
    if out:
        n = "1 log" if len(logs) == 1 else f"{len(logs)} logs"
        write(out, claims_text(claims, n))
        click.echo(f"\nWritten: {out}")


@click.command()
@click.argument("brief")
@click.option("--out", required=True, help="The file to write, such as frozen.yaml.")
@click.option("--machine", help="The machine that is bought; else the leader.")
@click.option("--draws", default=2_000, show_default=True, help="How many.")
@seed_option
@machines_option
@faults_to_stderr
def freeze(brief, out, machine, draws, seed, folder):
    """Freeze what is predicted of a machine, to be held against what is lived."""
    from datetime import date

    from scoring.answer.evaluation import MOST_DRAWS, N_DRAWS, check_draws
    from scoring.inputs.prediction import prediction_text
    from scoring.inputs.written import check_writable, write
    from scoring.questions.lived import freeze as frozen

    check_draws(draws, seed, MOST_DRAWS)
    check_writable(out, [brief])
    if Path(out).exists():
        raise ScoringError(f"{out}: is there already, and a prediction stays as it is")
    evaluation = evaluated(brief, folder, min(draws, N_DRAWS), seed)
    name = machine or evaluation.names[evaluation.order[0]]
    found = frozen(evaluation, name, date.today().isoformat(), draws)
    write(out, prediction_text(found))
    click.echo(f"{out}: {len(found.figures)} figures of {name}")


@click.command()
@click.argument("prediction")
@click.argument("log", required=False)
@click.option("--chart", help="An SVG file for the chart, of one prediction.")
@table_or_json
@faults_to_stderr
def lived(prediction, log, chart, form):
    """Hold a prediction against a job log; of a folder, all that lie in it.

    In a folder each NAME.yaml goes with NAME.csv or NAME.xlsx.
    """
    from scoring.inputs.job_log import load_job_log
    from scoring.inputs.prediction import load_prediction
    from scoring.inputs.written import check_writable, write
    from scoring.questions.lived import lived as scored
    from scoring.questions.lived import report_card
    from scoring.records.lived import card_record, lived_record
    from scoring.text.lived import card_text, lived_text

    if log is None:
        if chart:
            raise ScoringError("--chart: of one prediction and its log")
        pairs = _pairs(prediction)
    else:
        pairs = [(prediction, log)]
    if chart:
        check_writable(chart, [prediction, log])
    read = _loaded(
        *((load_prediction, each) for each, _ in pairs),
        *((load_job_log, each) for _, each in pairs),
    )
    both = zip(read[: len(pairs)], read[len(pairs) :], strict=True)
    found = [scored(record, done) for record, done in both]
    card = report_card(found)
    if form == "json":
        each = [lived_record(one) for one in found]
        print_json({"card": card_record(card), "predictions": each})
    else:
        click.echo(card_text(card) if log is None else lived_text(found[0], card))
    if chart:
        from scoring.report.lived_chart import lived_svg

        write(chart, lived_svg(found[0]))
        if form != "json":
            click.echo(f"\nWritten: {chart}")


def _pairs(folder):
    """Return [(prediction, log)] of a folder; ScoringError for one left alone."""
    root, found, alone = Path(folder), [], []
    if not root.is_dir():
        raise ScoringError(f"{folder}: a folder, or a prediction and its log")
    for prediction in sorted(root.glob("*.yaml")):
        logs = [prediction.with_suffix(end) for end in (".csv", ".xlsx")]
        there = [log for log in logs if log.is_file()]
        found += [(prediction, log) for log in there[:1]]
        alone += [] if there else [prediction]
    if alone or not found:
        said = [f"{path}: no log beside it; {path.stem}.csv or .xlsx" for path in alone]
        raise ScoringError("\n".join(said) or f"{folder}: no prediction (*.yaml) in it")
    return found
