"""The jobs of one machine as text and as rows."""

from dataclasses import fields

from scoring.text.layout import cautions_text, safe_rows
from scoring.words.cautions import ON_SITE
from scoring.words.workings.job import job_steps
from scoring.words.workings.job_money import job_money_steps


def job_text(evaluation, name):
    """Return the working of every job type with one machine."""
    k = evaluation.index(name)
    blocks = [f"{name} – {evaluation.brief.title}"]
    for j, job in enumerate(evaluation.brief.work):
        found = [*job_steps(evaluation, k, j), *job_money_steps(evaluation, k, j)]
        steps = [f"  {step.text()}" for step in found]
        blocks.append("\n".join([job.name, *steps]))
    blocks.append(cautions_text(("lifting", *ON_SITE)))
    return "\n\n".join(blocks)


def job_rows(record):
    """Return the jobs of one machine as rows for a spreadsheet."""
    jobs = record.jobs
    keys = [field.name for field in fields(jobs[0]) if field.name != "parts"]
    parts = list(jobs[0].parts)
    head = ["machine", *keys, *(f"{part}_min" for part in parts)]
    rows = [
        [record.machine, *(getattr(job, key) for key in keys), *job.parts.values()]
        for job in jobs
    ]
    return safe_rows([head, *rows])
