"""The blank share of a picture, under the name that is known outside."""

from scoring.inputs.silhouette import Strips, blank_share, strips

__all__ = ["Strips", "blank_share", "strips"]
