"""Faults planted in what is read, drawn and decided."""

from tests.planted.fault import Fault

FAULTS = (
    Fault(
        "pairwise mirrors held to a scale of their own",
        "decision/pairwise.py",
        "abs(judgements * mirrored - 1)",
        "abs(judgements * mirrored - 1) / judgements",
        "decision/test_weights.py",
    ),
    Fault(
        "an untold resale that turns out bad taken from the better side",
        "evidence/sheet_figures.py",
        'Field("resale", "resale", HIGH)',
        'Field("resale", "resale", LOW)',
        "evidence questions/test_firmness.py",
    ),
    Fault(
        "trust ignored",
        "inputs/quantity.py",
        "shares = shares if told is None else told",
        "shares = shares",
        "inputs",
    ),
    Fault(
        "who comes before whom, transposed in the engine",
        "decision/acceptability.py",
        "(counts + (n_draws - counts.T))",
        "(counts.T + (n_draws - counts))",
        "decision",
    ),
    Fault(
        "a lead comes whatever its share",
        "inputs/leads.py",
        "comes = uniform[..., 1] < probability[taken]",
        "comes = uniform[..., 1] < 1 + 0 * probability[taken]",
        "inputs",
    ),
    Fault(
        "faults after the fiftieth lost without a word",
        "errors.py",
        "return told + ([more_faults(last.file, last.line, n_more)] if n_more else [])",
        "return told",
        "inputs",
    ),
    Fault(
        "a cell run as a formula behind a semicolon",
        "inputs/formulas.py",
        'STARTS = re.compile(r"(^|[;,|])',
        'STARTS = re.compile(r"(^|[,|])',
        "inputs",
    ),
    Fault(
        "the brief's own guess ignored",
        "evidence/unknowns.py",
        "for table in (brief.guesses, guesses()):",
        "for table in (guesses(), brief.guesses):",
        "evidence",
    ),
    Fault(
        "a share of the price is one of its low end",
        "evidence/unknowns.py",
        "ends = [each * price.likely for",
        "ends = [each * price.low for",
        "evidence",
    ),
    Fault(
        "a guess that silence pays for",
        "inputs/guesses.yaml",
        "heaviest_lift: 18..45..80 kg",
        "heaviest_lift: 10..11..12 kg",
        "evidence inputs",
    ),
    Fault(
        "a cause's share from its own first draws",
        "decision/shares.py",
        "each = ((of_b - mean) * (mixed - of_a))",
        "each = ((of_a - mean) * (mixed - of_a))",
        "decision/test_shares.py",
    ),
)
