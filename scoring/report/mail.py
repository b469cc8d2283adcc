"""What a seller has not told, as one text of questions to send."""

from scoring.inputs.quantity import quantities_of
from scoring.report.letter import LETTER
from scoring.words.keys import in_words


def questions_mail(machine, brief):
    """Return the questions to the seller of a machine as a text; "" where none is open.

    What is told needs no question; what only a visit settles is asked for as a figure
    in writing all the same.
    """
    untold = [path for path, figure in quantities_of(machine) if figure.is_unknown]
    asks = [ask for ask in LETTER if any(_settles(ask, path) for path in untold)]
    asks += [ask for ask in LETTER if not ask.settles]
    alone = [path for path in untold if not any(_settles(ask, path) for ask in asks)]
    if not untold:
        return ""
    sizes = ", ".join(
        f"{job.name} ({job.width.text} × {job.height.text})" for job in brief.work
    )
    lines = [f"- {ask.how}" for ask in asks]
    lines += [f"- {in_words(machine, path)}" for path in alone]
    return "\n".join(
        [
            f"Questions on the {machine.name}",
            "",
            f"I print on walls, such as {sizes}, and am looking at your machine.",
            "Please tell me these in writing, each with its day and how it was found:",
            "",
            *lines,
            "",
            "Of a speed or a time, please say for which picture, size and passes.",
            "May I time one build and one print myself?",
        ]
    )


def _settles(ask, path):
    return any(path == key or path.startswith(f"{key}.") for key in ask.settles)
