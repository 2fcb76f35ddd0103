"""Writes what a photograph shows into a copy of it, in the fields that other programs read.

The fields are those of the IPTC Photo Metadata Standard 2023.2, written as XMP (ISO 16684-1).
They are put into JPEG files as an APP1 segment and into PNG files as an iTXt chunk (XMP
Specification Part 3, "Storage in Files"), so that the picture itself is not coded anew.
"""

from __future__ import annotations

import io
import struct
import zlib
from dataclasses import dataclass
from xml.sax.saxutils import escape

from PIL import Image

from planebench.photo.decode import decode_bytes
from planebench.photo.decoder_errors import as_file_errors

_JPEG, _PNG = b"\xff\xd8", b"\x89PNG\r\n\x1a\n"
_XMP_ID, _XMP_MORE_ID = b"http://ns.adobe.com/xap/1.0/\0", b"http://ns.adobe.com/xmp/extension/\0"
_EXIF_ID, _PNG_KEYWORD = b"Exif\0\0", b"XML:com.adobe.xmp"
_APP0, _APP1, _START_OF_SCAN, _FILLER = 0xE0, 0xE1, 0xDA, 0xFF
_STANDALONE = frozenset({0x01, *range(0xD0, 0xD8)})
_GPS = 0x8825
_QUALITY = 95
# A packet must fit into one segment of 65,502 bytes.
_LONGEST_TEXT = 4000  # characters

_PACKET = """<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about=""
 xmlns:dc="http://purl.org/dc/elements/1.1/"
 xmlns:photoshop="http://ns.adobe.com/photoshop/1.0/"
 xmlns:xmpRights="http://ns.adobe.com/xap/1.0/rights/"
 xmlns:Iptc4xmpCore="http://iptc.org/std/Iptc4xmpCore/1.0/xmlns/">
{fields}
</rdf:Description>
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="w"?>"""


@dataclass(frozen=True, slots=True, kw_only=True)
class IptcMetadata:
    """What is written into a copy; empty fields are left out.

    `job` is the tool's stock number (IPTC Job Identifier), `title` a short name of the picture,
    `alternative` says what is seen to those who do not see it, `rights` is the copyright notice.
    """

    job: str
    title: str
    description: str = ""
    alternative: str = ""
    rights: str = ""
    creator: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TaggedCopy:
    """A copy: its bytes, the ending of its name, and whether the picture was coded anew."""

    data: bytes
    suffix: str
    coded_anew: bool


def with_metadata(data: bytes, label: IptcMetadata, *, name: str) -> TaggedCopy:
    """Return a copy that carries a label; where it was taken (GPS) is left out.

    JPEG and PNG keep their picture bit by bit; all other formats become JPEG, quality 95, upright.
    Raises FileError for what cannot be read; `name` is the file that is told.
    """
    packet = xmp_packet(label)
    with as_file_errors(name):
        if data.startswith(_JPEG):
            return TaggedCopy(data=_in_jpeg(data, packet), suffix=".jpg", coded_anew=False)
        if data.startswith(_PNG):
            return TaggedCopy(data=_in_png(data, packet), suffix=".png", coded_anew=False)
        stream = io.BytesIO()
        Image.fromarray(decode_bytes(data, name=name)).save(stream, "JPEG", quality=_QUALITY)
        jpeg = _in_jpeg(stream.getvalue(), packet)
        return TaggedCopy(data=jpeg, suffix=".jpg", coded_anew=True)


def xmp_packet(label: IptcMetadata) -> bytes:
    """Return a label as an XMP packet in UTF-8."""
    fields = (
        _alternatives("dc:title", label.title),
        _alternatives("dc:description", label.description),
        _alternatives("dc:rights", label.rights),
        _alternatives("Iptc4xmpCore:AltTextAccessibility", label.alternative),
        _ordered("dc:creator", label.creator),
        _plain("photoshop:TransmissionReference", label.job),
        _plain("xmpRights:Marked", "True" if label.rights else ""),
    )
    return _PACKET.format(fields="\n".join(filter(None, fields))).encode("utf-8")


def _alternatives(field: str, text: str) -> str:
    item = f'<rdf:li xml:lang="x-default">{_written(text)}</rdf:li>'
    return f"<{field}><rdf:Alt>{item}</rdf:Alt></{field}>" if text else ""


def _ordered(field: str, text: str) -> str:
    return (
        f"<{field}><rdf:Seq><rdf:li>{_written(text)}</rdf:li></rdf:Seq></{field}>" if text else ""
    )


def _plain(field: str, text: str) -> str:
    return f"<{field}>{_written(text)}</{field}>" if text else ""


def _written(text: str) -> str:
    """Return text as XML takes it: without control signs, no longer than a segment has room for."""
    kept = "".join(sign for sign in text if sign in "\n\t" or sign.isprintable() or sign == " ")
    return escape(kept[:_LONGEST_TEXT])


def _in_jpeg(data: bytes, packet: bytes) -> bytes:
    body = _XMP_ID + packet
    mine = struct.pack(">BBH", 0xFF, _APP1, len(body) + 2) + body
    before: list[bytes] = []
    after: list[bytes] = []
    head, rest = _head(data)
    for marker, segment in head:
        content = segment[4:]
        if marker == _APP1 and content.startswith((_XMP_ID, _XMP_MORE_ID)):
            continue
        exif = marker == _APP1 and content.startswith(_EXIF_ID)
        first = marker == _APP0 or exif
        (before if first else after).append(_without_place(segment) if exif else segment)
    return b"".join((_JPEG, *before, mine, *after, rest))


def _head(data: bytes) -> tuple[list[tuple[int, bytes]], bytes]:
    """Return the segments before the picture, each with its marker, and all that follows them."""
    segments: list[tuple[int, bytes]] = []
    at = 2
    while data[at : at + 1] == b"\xff" and data[at + 1] != _START_OF_SCAN:
        marker = data[at + 1]
        if marker == _FILLER:
            at += 1
            continue
        length = 0 if marker in _STANDALONE else struct.unpack(">H", data[at + 2 : at + 4])[0]
        segments.append((marker, data[at : at + 2 + length]))
        at += 2 + length
    return segments, data[at:]


def _without_place(segment: bytes) -> bytes:
    """Return an Exif segment without its GPS part; one that has none stays as it is."""
    body = _exif_without_place(segment[4:])
    if body is None:
        return segment
    return struct.pack(">BBH", 0xFF, _APP1, len(body) + 2) + body


def _exif_without_place(body: bytes) -> bytes | None:
    """Return Exif, from its identifier on, without its GPS part; None when it has none."""
    exif = Image.Exif()
    exif.load(body)
    if _GPS not in exif:
        return None
    del exif[_GPS]
    return _EXIF_ID + exif.tobytes().removeprefix(_EXIF_ID)


def _in_png(data: bytes, packet: bytes) -> bytes:
    """Put the packet behind the head, in place of an older one."""
    mine = _chunk(b"iTXt", _PNG_KEYWORD + b"\0\0\0\0\0" + packet)
    kept = [_PNG]
    at = len(_PNG)
    while at + 12 <= len(data):
        (length,) = struct.unpack(">I", data[at : at + 4])
        end = at + 12 + length
        kind, content = data[at + 4 : at + 8], data[at + 8 : at + 8 + length]
        if not (kind == b"iTXt" and content.startswith(_PNG_KEYWORD)):
            placeless = _exif_without_place(_EXIF_ID + content) if kind == b"eXIf" else None
            kept.append(
                data[at:end]
                if placeless is None
                else _chunk(kind, placeless.removeprefix(_EXIF_ID))
            )
        if kind == b"IHDR":
            kept.append(mine)
        at = end
    return b"".join(kept)


def _chunk(kind: bytes, content: bytes) -> bytes:
    checked = kind + content
    return struct.pack(">I", len(content)) + checked + struct.pack(">I", zlib.crc32(checked))
