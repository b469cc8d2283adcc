"""Predicted against lived, in sentences and rows."""

import math

from scoring.inputs.print_tests import NORMAL_95
from scoring.words.figures import figure

PARTS = {
    "build": "build",
    "prime": "prime and nozzle check",
    "move": "move to next wall",
    "pack": "pack down",
    "carry": "carry in",
    "print": "print",
    "paid": "paid for a job",
    "jobs_a_month": "jobs a month",
    "days_to_pay": "days to pay",
    "jobs_between": "stoppages in the log",
}
LIVED_HEAD = ("figure", "jobs", "predicted, 8 of 10", "middle", "lived", "")
BIAS_HEAD = ("part", "figures", "within 8 of 10", "lived over predicted", "")
INSIDE, OUTSIDE = "within", "outside"
FAIR = 0.8
MEANING = (
    "Within: what was lived lies in the range that held 8 of 10 draws, the error of "
    "few jobs counted in. Of honest ranges about 8 of 10 hold; many more means that "
    "they are too wide, many fewer that they are too narrow."
)


def name_of(scored):
    """Return what a Scored is of, in words."""
    part = PARTS[scored.part]
    return f"{scored.kind}: {part}" if scored.kind else part


def lived_rows(found, is_us=False):
    """Return a row for each figure, as LIVED_HEAD names them."""
    rows = []
    for one in found.figures:
        unit = "" if one.part == "jobs_between" else one.unit
        low = figure(one.p10, unit, is_us).split(" ")[0]
        rows.append(
            (
                name_of(one),
                str(one.n),
                f"{low}..{figure(one.p90, unit, is_us)}",
                figure(one.p50, unit, is_us),
                figure(one.lived, unit, is_us),
                INSIDE if one.is_inside else OUTSIDE,
            )
        )
    return rows


def bias_rows(card):
    """Return a row for each part, as BIAS_HEAD names them."""
    rows = []
    for bias in card.biases:
        off = ""
        if bias.is_found:
            off = "more than predicted" if bias.ratio > 1 else "less than predicted"
        half = NORMAL_95 * bias.unsure
        times = f"× {bias.ratio:.2f}"
        if math.isfinite(half):
            times += f" (± {half:.2f})"
        inside = f"{bias.n_inside} of {bias.n}"
        rows.append((PARTS[bias.part], str(bias.n), inside, times, off))
    return rows


def verdict(card):
    """Return in a sentence or three how good the predictions were."""
    files = "1 prediction" if card.n_files == 1 else f"{card.n_files} predictions"
    share = figure(card.share_inside, "share")
    low = figure(card.inside_low, "share").split(" ")[0]
    between = f"{low}..{figure(card.inside_high, 'share')}"
    said = f"{files}, {card.n} figures: {share} within their range of 8 of 10"
    if card.inside_high < FAIR:
        judged = "too few: the ranges were too narrow, or leaned to one side"
    elif card.inside_low > FAIR:
        judged = "more than 8 of 10: the ranges were wider than they need be"
    else:
        judged = "as honest ranges would have it"
    off = [PARTS[bias.part] for bias in card.biases if bias.is_found]
    leaning = f" Off by more than chance: {', '.join(off)}." if off else ""
    score = figure(card.crps_share, "share")
    return (
        f"{said} (95 % sure: {between}), {judged}.{leaning} Mean distance (CRPS) "
        f"{score} of what was predicted."
    )


def not_scored(found):
    """Return in a sentence what the log does not tell, "" where it tells all."""
    if not found.not_scored:
        return ""
    return f"The log does not tell: {', '.join(found.not_scored)}."
