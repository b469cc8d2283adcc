"""A machine under one of its plans, with the features that are then in use."""

from dataclasses import dataclass, replace
from typing import NamedTuple


class Way(NamedTuple):
    """How the buyer has decided to carry a machine: bought once, for all jobs."""

    aids: tuple[str, ...] = ()  # bought, or at hand
    level: int = 1  # people that go out at least, where there are no stairs
    stairs: int = 1  # and where there are
    hires_first: bool = False  # others are hired before the crew's own go
    may_hire: bool = False


@dataclass(frozen=True)
class Variant:
    """A machine under one of its plans, with the features that it then has in use."""

    machine: object
    plan: int
    way: Way = Way()

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


def carried_by(variant, way):
    """Return the same machine and plan, carried in another Way."""
    return replace(variant, way=way)


def variants_of(machine):
    """Return the machine under each of its plans."""
    return [Variant(machine, k) for k in range(len(machine.subscription_fees))]
