"""Pictures for tests, made on the spot with Pillow: with a place and a camera in their metadata, or without any.

Source: Pillow writes and reads them; the tags are those of Exif 2.32 (CIPA DC-008): 0x010F maker, 0x0112
orientation, 0x8825 the GPS block.
"""

from __future__ import annotations

import hashlib
import io
import random

from PIL import ExifTags, Image

MAKER = "A maker of telephones"
PLACE = {
    ExifTags.GPS.GPSLatitudeRef: "N",
    ExifTags.GPS.GPSLatitude: (51.0, 26.0, 30.0),
    ExifTags.GPS.GPSLongitudeRef: "E",
    ExifTags.GPS.GPSLongitude: (3.0, 34.0, 12.0),
}


def picture(
    width_px: int = 640,
    height_px: int = 480,
    *,
    format: str = "JPEG",
    seed: int = 1,
    has_place: bool = False,
    orientation: int = 0,
    is_noisy: bool = True,
) -> bytes:
    """Return a picture: four fields of colour, warm at the upper left, with grain so that it does not shrink away."""
    chance = random.Random(seed)
    image = Image.new("RGB", (width_px, height_px), (chance.randrange(60), 40, 60))
    image.paste((230, 120, 40), (0, 0, width_px // 2, height_px // 2))
    if is_noisy:
        grain = Image.frombytes("L", (200, 150), chance.randbytes(200 * 150)).resize((width_px, height_px))
        image = Image.blend(image, Image.merge("RGB", (grain, grain, grain)), 0.25)
    exif = Image.Exif()
    if has_place:
        exif[ExifTags.Base.Make] = MAKER
        exif.get_ifd(ExifTags.IFD.GPSInfo).update(PLACE)
    if orientation:
        exif[ExifTags.Base.Orientation] = orientation
    made = io.BytesIO()
    image.save(made, format, **({"exif": exif} if has_place or orientation else {}))
    return made.getvalue()


def digest_of(octets: bytes) -> str:
    """Return the name that a picture goes by."""
    return hashlib.sha256(octets).hexdigest()


def opened(octets: bytes) -> Image.Image:
    """Return a picture as Pillow decodes the whole of it; raises when it is cut off or damaged."""
    image = Image.open(io.BytesIO(octets))
    image.load()
    return image
