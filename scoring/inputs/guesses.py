"""The toolkit's own guesses of what a machine sheet does not tell: a file beside this.

Each is a text as a sheet would have it, or a share of the machine's price.
"""

from functools import cache
from pathlib import Path

import yaml

TABLE = Path(__file__).with_name("guesses.yaml")


@cache
def guesses():
    """Return {key: text}; own estimates from common practice, no source."""
    return yaml.safe_load(TABLE.read_text(encoding="utf-8"))
