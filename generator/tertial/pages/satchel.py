"""What a reader's device needs to keep the guide: a list of its files with their digests, the script that keeps
them, and what a home screen shows of it.

The script itself is ``layouts/satchel.js``; how it says so on pages is ``layouts/assets/keeping.js``.
"""

from __future__ import annotations

import hashlib
import json
from typing import TYPE_CHECKING, Final, Protocol

from tertial.pages.frame import frame_of
from tertial.pages.pictures import FOLDER
from tertial.pages.site import FEED, Page, Site

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping

    from tertial.sketches.sizes import PublishedPicture

SCRIPT: Final = "satchel.js"
"""Address of the script, and its name in ``layouts``: at the root, because it may keep nothing above its own folder."""

LIST: Final = "satchel.json"
"""Address of the list."""

MANIFEST: Final = "manifest.webmanifest"
"""Address of what a home screen shows (Web Application Manifest, W3C), and its template."""

_DIGEST_MARK: Final = "DIGEST-OF-THE-LIST"
_DIGITS: Final = 16
"""Hexadecimal digits of a digest that are enough to tell one edition of a file from another."""


class Stored(Protocol):
    """What has to be known of a file."""

    @property
    def digest(self) -> str:
        """SHA-256 of its content, in hexadecimal."""

    @property
    def length(self) -> int:
        """Its length in bytes."""


def manifest_pages(site: Site) -> Iterator[Page]:
    """Give what a home screen shows."""
    title = frame_of(site).title
    yield Page(MANIFEST, MANIFEST, title, f"{title}, as a home screen shows it.", lambda: None)


def kept_pictures(pictures: Iterable[PublishedPicture]) -> frozenset[str]:
    """Give of each picture the address of the one size that is kept: the middle one does for every screen."""
    return frozenset(f"{FOLDER}/{each.renditions[len(each.renditions) // 2].name}" for each in pictures)


def satchel(script: str, pictures: Collection[str], files: Mapping[str, Stored]) -> dict[str, bytes]:
    """Make the list of all that is kept, and the script that knows its digest.

    :param script: text of the script, in which a mark stands for the digest.
    :param pictures: addresses of the pictures that are kept.
    :param files: every other file of the guide by address.
    :returns: both files by address. The script changes with anything that is kept.
    """

    def is_kept(path: str) -> bool:
        return path in pictures if path.startswith(f"{FOLDER}/") else path not in (SCRIPT, LIST, FEED)

    listed = [(path, files[path].digest[:_DIGITS], files[path].length) for path in sorted(files) if is_kept(path)]
    text = json.dumps(listed, separators=(",", ":")).encode()
    digest = hashlib.sha256(text).hexdigest()[:_DIGITS]
    return {LIST: text, SCRIPT: script.replace(_DIGEST_MARK, digest).encode()}
