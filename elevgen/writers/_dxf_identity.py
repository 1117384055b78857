"""The same scene gives the same bytes: dates from the project, identifiers from what the drawing was made from.

ezdxf writes the clock and random identifiers when it saves; tests guard the private method this replaces.
"""

from __future__ import annotations

from datetime import datetime
from types import MethodType
from uuid import NAMESPACE_URL, uuid5

from ezdxf.document import CREATED_BY_EZDXF, WRITTEN_BY_EZDXF, Drawing
from ezdxf.tools.juliandate import juliandate

_UNDATED = "2000-01-01"


def keep_identity(doc: Drawing, date: str, identity: str) -> None:
    """Make a document write its project's date, and identifiers that follow from `identity`."""
    when = juliandate(datetime.fromisoformat(date or _UNDATED))
    guid = "{" + str(uuid5(NAMESPACE_URL, f"elevgen:{identity}")).upper() + "}"

    def update(self: Drawing) -> None:
        Drawing._update_metadata(self)  # type: ignore[no-untyped-call]
        metadata = self.ezdxf_metadata()
        metadata[CREATED_BY_EZDXF] = metadata[WRITTEN_BY_EZDXF] = "elevgen"
        for name in ("$TDCREATE", "$TDUCREATE", "$TDUPDATE", "$TDUUPDATE"):
            self.header[name] = when
        for name in ("$FINGERPRINTGUID", "$VERSIONGUID"):
            self.header[name] = guid

    metadata = doc.ezdxf_metadata()  # in a file of another program these are new: made before the library counts handles
    metadata[CREATED_BY_EZDXF] = metadata[WRITTEN_BY_EZDXF] = "elevgen"
    for kind in sorted(doc.entitydb.dxf_types_in_use()):  # the library would take them in the order of a set
        doc.classes.add_class(kind)
    doc._update_metadata = MethodType(update, doc)  # type: ignore[method-assign]
