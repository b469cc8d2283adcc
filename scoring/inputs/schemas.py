"""The JSON Schemas that lie beside the profiles, so that editors complete and check.

python -m scoring.inputs.schemas profiles
"""

import json
import sys
from pathlib import Path

from scoring.inputs.brief import OWN_WAYS, Brief
from scoring.inputs.machine import Machine
from scoring.inputs.template import Template

FILES = {
    "machine.schema.json": Machine,
    "brief.schema.json": Brief,
    "population.schema.json": Template,
}


def schema_text(model):
    """Return the JSON Schema of a kind of file, as it stands in the folder."""
    schema = _without_defaults(model.model_json_schema())
    weights = schema.get("$defs", {}).get("Weights")
    if weights:
        schema["$defs"]["Weights"] = _weights(weights)
    return json.dumps(schema, ensure_ascii=False, indent=1) + "\n"


def _without_defaults(part):
    """Return the schema without null and empty defaults, which no file may state."""
    if isinstance(part, dict):
        return {
            key: _without_defaults(value)
            for key, value in part.items()
            if key != "default"
        }
    return [_without_defaults(p) for p in part] if isinstance(part, list) else part


def _weights(schema):
    """Return the schema of weights as files state them: plain, or one way."""
    number = {"type": "number", "minimum": 0}
    ways = [
        {
            "type": "object",
            "additionalProperties": False,
            "required": [way],
            "properties": {way: schema["properties"][way]},
        }
        for way in OWN_WAYS
    ]
    plain = {
        "type": "object",
        "propertyNames": {"not": {"enum": list(OWN_WAYS)}},
        "additionalProperties": number,
    }
    return {"description": schema["description"], "anyOf": [plain, *ways]}


def write(folder):
    """Write all schemas into a folder."""
    for name, model in FILES.items():
        Path(folder, name).write_text(schema_text(model), encoding="utf-8")


if __name__ == "__main__":
    write(sys.argv[1])
