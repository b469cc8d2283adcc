"""A machine under one of its plans, with the features that are then in use."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Variant:
    """A machine under one of its plans, with the features that it then has in use."""

    machine: object
    plan: int

    @property
    def features(self):
        unlocked = self.machine.subscription_fees[self.plan].unlocks
        return frozenset(self.machine.features) | frozenset(unlocked)

    def path(self, path):
        """Return the path in force: a feature's effect replaces the field."""
        for feature in sorted(self.features):
            if path in self.machine.effects.get(feature, {}):
                return f"effects.{feature}.{path}"
        return path


def variants_of(machine):
    """Return the machine under each of its plans."""
    return [Variant(machine, k) for k in range(len(machine.subscription_fees))]
