"""Faults planted in what a job log tells, in claims that learn, in what was lived."""

from tests.planted.fault import Fault

LOG, LIVED, CLAIMS = "evidence/jobs_done.py", "questions/lived.py", "evidence/claims.py"
FAULTS = (
    Fault(
        "a log's ends make it busier than it was",
        LOG,
        "return (n + 1) / (n - 1) * days",
        "return n / (n - 1) * days",
    ),
    Fault(
        "a pace turned into a speed keeps its slow end low",
        LOG,
        "ends = [60 / end for end in (pace.high, pace.likely, pace.low)]",
        "ends = [60 / end for end in (pace.low, pace.likely, pace.high)]",
    ),
    Fault(
        "share won of what was done, not of what was asked",
        LOG,
        "won=share_of(len(jobs), len(rows)) if is_asked else None,",
        "won=share_of(len(rows) - len(jobs), len(rows)) if is_asked else None,",
    ),
    Fault(
        "jobs with a stoppage counted as jobs between",
        LOG,
        "return Seen(n_stops, low, n_jobs / n_stops, high, 1 / math.sqrt(n_stops))",
        "return Seen(n_stops, low, n_stops / n_jobs, high, 1 / math.sqrt(n_stops))",
    ),
    Fault(
        "an interval as if jobs were a sample of one more",
        LOG,
        "error = float(values.std(ddof=1)) / math.sqrt(n)",
        "error = float(values.std(ddof=0)) / math.sqrt(n)",
    ),
    Fault(
        "a ratio is the mean of ratios",
        LOG,
        "ratio = float(parts.sum() / wholes.sum())",
        "ratio = float((parts / wholes).mean())",
    ),
    Fault(
        "a ratio's error without its t",
        LOG,
        "high = ratio + t * error",
        "high = ratio + error",
    ),
    Fault(
        "a log's own jobs mixed with another machine's",
        LOG,
        'rows = [row for row in done.rows if row.machine in ("", machine_name)]',
        "rows = [row for row in done.rows if True or machine_name]",
    ),
    Fault(
        "a posterior whose mean is not weighted",
        "decision/pooling.py",
        "weighted = mean / variance + (precision * np.asarray(values, float)).sum()",
        "weighted = mean / variance + precision.sum() * np.mean(values or [0])",
    ),
    Fault(
        "pulled one too many degrees of freedom",
        "decision/pooling.py",
        "shrink = (k - 3) / (k - 1) * own / (own + between)",
        "shrink = own / (own + between)",
    ),
    Fault(
        "pulled away from the mean",
        "decision/pooling.py",
        "y + shrink * (mean - y)",
        "y - shrink * (mean - y)",
    ),
    Fault(
        "the leader disappoints by the mean of all",
        "decision/pooling.py",
        "best = int(values.argmax()) if leader is None else leader",
        "best = int(values.argmax())",
    ),
    Fault(
        "a known seller's timings leave the kind as it was",
        CLAIMS,
        "mu, sellers[name] = _again(mu, sellers[name], *means[name], between)",
        "_, sellers[name] = _again(mu, sellers[name], *means[name], between)",
    ),
    Fault(
        "a seller seen once is believed wholly",
        CLAIMS,
        "pull = variance / (variance + between**2) if between > 0 else 1.0",
        "pull = 0.0 if between > 0 else 1.0",
    ),
    Fault(
        "the next claim of a new seller without the spread of sellers",
        CLAIMS,
        "own = (found.unsure, found.between_sellers, found.between_figures)",
        "own = (found.unsure, found.between_figures)",
    ),
    Fault(
        "the score of a sample forgets how it is spread",
        "decision/predictions.py",
        "return off - ((2 * np.arange(1, n + 1) - n - 1) * x).sum(axis=-1) / n**2",
        "return off - ((2 * np.arange(1, n + 1) - n) * x).sum(axis=-1) / n**2",
    ),
    Fault(
        "the log's own error does not widen a prediction",
        LIVED,
        "sample = with_error(np.array(figure.quantiles), np.array(error))",
        "sample = with_error(np.array(figure.quantiles), np.array(0 * error))",
    ),
    Fault(
        "inside means above the low end",
        LIVED,
        "is_inside=RANGE[0] <= place <= RANGE[1],",
        "is_inside=RANGE[0] <= place,",
    ),
    Fault(
        "a bias upside down",
        LIVED,
        "ratios = np.array([figure.lived / figure.mean for figure in known])",
        "ratios = np.array([figure.mean / figure.lived for figure in known])",
    ),
    Fault(
        "stoppages scored by jobs between instead of by jobs",
        LIVED,
        "rates = 1 / np.array(figure.quantiles)[::-1]",
        "rates = np.array(figure.quantiles)",
    ),
    Fault(
        "larger jobs than the brief's count as slower printing",
        LIVED,
        "if pace is not None and area:",
        "if pace is not None and area is None:",
    ),
    Fault(
        "the mean of ratios where events are few",
        LIVED,
        "ratios = np.array([figure.lived for figure in known]) / total * len(known)",
        "ratios = np.array([figure.lived / figure.mean for figure in known])",
    ),
    Fault(
        "pay in another currency compared",
        LIVED,
        "if log.currency == prediction.currency:",
        "if log.currency or prediction.currency:",
    ),
)
