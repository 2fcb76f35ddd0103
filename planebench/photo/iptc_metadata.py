"""Writes a description into a copy of a photograph, in fields that other programs read.

The fields are those of the IPTC Photo Metadata Standard 2023.2, written as XMP (ISO 16684-1).
They are put into JPEG files as an APP1 segment and into PNG files as an iTXt chunk (XMP
Specification Part 3, "Storage in Files"), so that the picture itself is not re-encoded.
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
# Re-encoding is rare (HEIF, raw ...) and the copy may be edited again: hardly any loss.
_JPEG_QUALITY = 95
# Characters per field. A packet must fit into one segment of 65,502 bytes, and a character may
# take four: four long fields of this length just do.
_MAX_TEXT = 4000

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
    """The fields written into a copy; empty ones are left out.

    `job` is the tool's stock number (IPTC Job Identifier), `title` a short name of the picture,
    `alt_text` describes it for people who cannot see it, `rights` is the copyright notice.
    """

    job: str
    title: str
    description: str = ""
    alt_text: str = ""
    rights: str = ""
    creator: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TaggedCopy:
    """A copy: its bytes, the suffix for its name, and whether the picture was re-encoded."""

    data: bytes
    suffix: str
    reencoded: bool


def with_metadata(data: bytes, metadata: IptcMetadata, *, name: str) -> TaggedCopy:
    """Return a copy that carries the metadata; its GPS position is removed.

    JPEG and PNG keep their picture bit for bit; all other formats become JPEG, quality 95, upright.
    Raise FileError, naming the file `name`, if it cannot be read.
    """
    packet = xmp_packet(metadata)
    with as_file_errors(name):
        if data.startswith(_JPEG):
            return TaggedCopy(data=_in_jpeg(data, packet), suffix=".jpg", reencoded=False)
        if data.startswith(_PNG):
            return TaggedCopy(data=_in_png(data, packet), suffix=".png", reencoded=False)
        stream = io.BytesIO()
        Image.fromarray(decode_bytes(data, name=name)).save(stream, "JPEG", quality=_JPEG_QUALITY)
        jpeg = _in_jpeg(stream.getvalue(), packet)
        return TaggedCopy(data=jpeg, suffix=".jpg", reencoded=True)


def xmp_packet(metadata: IptcMetadata) -> bytes:
    """Return the metadata as an XMP packet in UTF-8."""
    fields = (
        _alternatives("dc:title", metadata.title),
        _alternatives("dc:description", metadata.description),
        _alternatives("dc:rights", metadata.rights),
        _alternatives("Iptc4xmpCore:AltTextAccessibility", metadata.alt_text),
        _ordered("dc:creator", metadata.creator),
        _plain("photoshop:TransmissionReference", metadata.job),
        _plain("xmpRights:Marked", "True" if metadata.rights else ""),
    )
    return _PACKET.format(fields="\n".join(filter(None, fields))).encode("utf-8")


def _alternatives(field: str, text: str) -> str:
    item = f'<rdf:li xml:lang="x-default">{_xml_text(text)}</rdf:li>'
    return f"<{field}><rdf:Alt>{item}</rdf:Alt></{field}>" if text else ""


def _ordered(field: str, text: str) -> str:
    return (
        f"<{field}><rdf:Seq><rdf:li>{_xml_text(text)}</rdf:li></rdf:Seq></{field}>" if text else ""
    )


def _plain(field: str, text: str) -> str:
    return f"<{field}>{_xml_text(text)}</{field}>" if text else ""


def _xml_text(text: str) -> str:
    """Return text escaped for XML, without control characters, cut to the room in a segment."""
    kept = "".join(char for char in text if char in "\n\t" or char.isprintable() or char == " ")
    return escape(kept[:_MAX_TEXT])


def _in_jpeg(data: bytes, packet: bytes) -> bytes:
    body = _XMP_ID + packet
    own = struct.pack(">BBH", 0xFF, _APP1, len(body) + 2) + body
    before: list[bytes] = []
    after: list[bytes] = []
    head, rest = _head(data)
    for marker, segment in head:
        content = segment[4:]
        if marker == _APP1 and content.startswith((_XMP_ID, _XMP_MORE_ID)):
            continue
        exif = marker == _APP1 and content.startswith(_EXIF_ID)
        first = marker == _APP0 or exif
        (before if first else after).append(_without_gps(segment) if exif else segment)
    return b"".join((_JPEG, *before, own, *after, rest))


def _head(data: bytes) -> tuple[list[tuple[int, bytes]], bytes]:
    """Return the segments before the picture, each with its marker, and everything after."""
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


def _without_gps(segment: bytes) -> bytes:
    """Return an Exif segment without its GPS directory; unchanged if it has none."""
    body = _exif_without_gps(segment[4:])
    if body is None:
        return segment
    return struct.pack(">BBH", 0xFF, _APP1, len(body) + 2) + body


def _exif_without_gps(body: bytes) -> bytes | None:
    """Return Exif data without its GPS directory, None if it has none."""
    exif = Image.Exif()
    exif.load(body)
    if _GPS not in exif:
        return None
    del exif[_GPS]
    return _EXIF_ID + exif.tobytes().removeprefix(_EXIF_ID)


def _in_png(data: bytes, packet: bytes) -> bytes:
    """Insert the packet after the header, in place of an older one."""
    own = _chunk(b"iTXt", _PNG_KEYWORD + b"\0\0\0\0\0" + packet)
    kept = [_PNG]
    at = len(_PNG)
    while at + 12 <= len(data):
        (length,) = struct.unpack(">I", data[at : at + 4])
        end = at + 12 + length
        kind, content = data[at + 4 : at + 8], data[at + 8 : at + 8 + length]
        if not (kind == b"iTXt" and content.startswith(_PNG_KEYWORD)):
            cleaned = _exif_without_gps(_EXIF_ID + content) if kind == b"eXIf" else None
            kept.append(
                data[at:end] if cleaned is None else _chunk(kind, cleaned.removeprefix(_EXIF_ID))
            )
        if kind == b"IHDR":
            kept.append(own)
        at = end
    return b"".join(kept)


def _chunk(kind: bytes, content: bytes) -> bytes:
    checked = kind + content
    return struct.pack(">I", len(content)) + checked + struct.pack(">I", zlib.crc32(checked))
