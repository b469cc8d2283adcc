"""Published values, each file with its source and how it was come by (provenance).

a: read in a transcription; b: from memory; c: computed with the library the file names.
"""

from pathlib import Path

import yaml

FOLDER = Path(__file__).parent.parent / "reference"


def published(name):
    """Return the record in tests/reference/<name>.yaml."""
    return yaml.safe_load((FOLDER / f"{name}.yaml").read_text("utf-8"))
