"""Jobs a month as the sliders show them."""

from scoring.inputs.quantity import pert_mean


def mean_jobs(job):
    """Return the mean jobs a month of a kind of job, by its range."""
    n_jobs = job.per_month
    return pert_mean(n_jobs.low, n_jobs.likely, n_jobs.high)


def shown_jobs(job):
    """Return the mean jobs a month as a slider shows them."""
    return round(mean_jobs(job), 1)


def jobs_of(brief):
    """Return the mean jobs a month of each kind of job, as the sliders show them."""
    return tuple(map(shown_jobs, brief.work))
