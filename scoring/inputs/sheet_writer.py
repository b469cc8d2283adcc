"""Measured figures written into the text of a machine sheet."""

import yaml

from scoring.inputs.yaml_lines import FLOAT, INTEGER


class _Dumper(yaml.SafeDumper):
    """Writes texts so that the reader of sheets takes them for texts again."""

    def ignore_aliases(self, data):
        return True


def text_of(dumper, text):
    # The library follows YAML 1.1, the reader 1.2: there 1e5 is a number.
    style = "'" if FLOAT.fullmatch(text) else None
    return dumper.represent_scalar("tag:yaml.org,2002:str", text, style=style)


_Dumper.add_representer(str, text_of)


def yaml_of(data):
    return yaml.dump(
        _plain_keys(data),
        Dumper=_Dumper,
        allow_unicode=True,
        sort_keys=False,
        default_flow_style=None,
        width=88,
    )


def _plain_keys(data):
    """Return the data with whole numbers for keys such as 4, which then need no quotes.

    The reader takes every key for text, so that nothing else changes.
    """
    if isinstance(data, list):
        return [_plain_keys(entry) for entry in data]
    if not isinstance(data, dict):
        return data
    return {
        int(key) if INTEGER.fullmatch(key) and str(int(key)) == key else key: (
            _plain_keys(value)
        )
        for key, value in data.items()
    }


def comments_of(text):
    """Return the comments before the first key."""
    kept = []
    for line in text.splitlines(keepends=True):
        if line.strip() and not line.startswith("#"):
            break
        kept.append(line)
    return "".join(kept)
