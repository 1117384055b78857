"""The same bytes for the same workbook: zip members packed anew without the clock or the system in them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from io import BytesIO
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

FIRST_DATE = (1980, 1, 1, 0, 0, 0)
UNIX = 3
PLAIN_FILE = 0o600 << 16


def repacked(archive: bytes, changes: Mapping[str, Callable[[bytes], bytes]]) -> bytes:
    """The archive with the same members in the same order, dates and attributes fixed, some of them changed on the way."""
    out = BytesIO()
    with ZipFile(BytesIO(archive)) as given, ZipFile(out, "w") as packed:
        for member in given.namelist():
            info = ZipInfo(member, FIRST_DATE)
            info.compress_type, info.create_system, info.external_attr = ZIP_DEFLATED, UNIX, PLAIN_FILE
            change = changes.get(member, bytes)
            packed.writestr(info, change(given.read(member)), compresslevel=6)
    return out.getvalue()
