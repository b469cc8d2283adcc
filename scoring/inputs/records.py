"""Frozen records whose attributes are the keys of a file."""

from pydantic import BaseModel, ConfigDict, PrivateAttr


class Record(BaseModel):
    """A frozen record whose attributes are the keys of the file."""

    model_config = ConfigDict(frozen=True, extra="forbid", hide_input_in_errors=True)


class Sheet(Record):
    """A record that is a whole file, and knows where it came from."""

    _document: object = PrivateAttr(default=None)

    def keep(self, document):
        """Return this record with the document that it was read from."""
        self._document = document
        return self

    @property
    def source(self):
        """The file's name."""
        return self._document.name if self._document else ""

    @property
    def text(self):
        """The YAML as it was read."""
        return self._document.text if self._document else ""

    def line_of(self, path):
        """Return the line on which a dotted path stands, or its nearest parent."""
        return self._document.line_of(path.split(".")) if self._document else 1
