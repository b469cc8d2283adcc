"""What a job log timed against what sellers claim, like with like."""

from scoring.errors import ScoringError, shown
from scoring.evidence.claims import FARTHEST
from scoring.evidence.jobs_done import ratios, seen

LEAST_COVER = 1e-3  # of a wall; less is no picture


def held_against_claims(found, machine, brief=None):
    """Return the Ratios of what was timed to what the seller claims, like with like.

    Speeds and ink only where it is known what was skipped, left bare or white.
    """
    keys = [] if is_plain(machine, brief) else ["speed"]
    keys += ["ink"] if hides_ink(brief) else []
    return [one for one in ratios(found, machine) if one.kind not in keys]


def pooled_ratios(logs, machines, name=None, brief=None):
    """Return the Ratios of several logs, each row by its own machine.

    Parameters
    ----------
    logs : JobsDone, one or more
    machines : {name: Machine}
    name : of the machine of rows that name none, optional

    Raises
    ------
    ScoringError
        With every log that names no machine, or one without a sheet.
    """
    said, found = [], []
    for done in logs:
        whose = {row.machine or name for row in done.rows}
        if None in whose:
            said.append(f"{done.name}: rows without a machine; the column `machine`")
        unknown = sorted(shown(one) for one in whose - {None} if one not in machines)
        if unknown:
            known = ", ".join(machines)
            what = f"no sheet of {', '.join(unknown)}"
            said.append(f"{done.name}: {what}; one of {known}")
        found += [(done, one) for one in sorted(whose & set(machines))]
    if said:
        raise ScoringError("\n".join(said))
    ratios_of_all = []
    for done, one in found:
        rows = tuple(row for row in done.rows if (row.machine or name) == one)
        if any(row.is_won for row in rows):
            factors = ({}, {}) if brief is None else factors_of(machines[one], brief)
            log = seen(done._replace(rows=rows), one, (), *factors)
            ratios_of_all += held_against_claims(log, machines[one], brief)
    return ratios_of_all


def far_off(ratio):
    """Return in words how far a figure is off its claim: one of them may be wrong."""
    times = f"{ratio.times:.3g} times what the seller claims"
    why = f"counted as {FARTHEST:g} times off; look at the unit, in log and sheet"
    return f"{times}, {why}"


def is_plain(machine, brief):
    """Return whether printing times of a log tell a speed, whatever was printed."""
    if _skips_by_plan(machine):
        return False
    has_neither = "skip_blank" not in machine.features and machine.white.mode == "none"
    return brief is not None or has_neither


def hides_ink(brief):
    return brief is None or any(job.underbase for job in brief.work)


def factors_of(machine, brief):
    """Return ({kind of job: printing time}, {kind: ink}) of a m², 1 for a plain one.

    What the head skips takes no time, white underneath takes more; ink goes where the
    picture covers the wall.
    """
    white, printed, inked = machine.white.time_factor, {}, {}
    for job in brief.work:
        name = job.name.casefold()
        has_white = job.underbase and white is not None and not white.is_unknown
        skipped = (
            1 - job.blank_share.likely if "skip_blank" in machine.features else 1.0
        )
        printed[name] = skipped * (white.likely if has_white else 1.0)
        inked[name] = max(job.ink_cover.likely, LEAST_COVER)
    return printed, inked


def fees_of(brief):
    """Return {kind of job, in small letters: fee for its artwork, as likely}."""
    return {
        job.name.casefold(): job.artwork_fee.likely
        for job in brief.work
        if job.artwork_fee is not None
    }


def _skips_by_plan(machine):
    """Return whether a plan, and nothing else, lets the head skip empty areas."""
    plans = machine.subscription_fees
    by_plan = any("skip_blank" in plan.unlocks for plan in plans)
    return by_plan and "skip_blank" not in machine.features
