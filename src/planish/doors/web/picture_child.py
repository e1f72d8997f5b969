"""The child that decodes one stranger's picture: limited memory and time, one format, a cap on pixels; JPEG out."""

import io
import sys

MOST_PIXELS = 40_000_000
LONGEST_SIDE = 4_000
MEMORY = 1_200 * 1_048_576
QUALITY = 88


def main(kind: str) -> int:
    """Read stdin, write stdout; any trouble is exit code 1."""
    _limit()
    from PIL import Image, ImageOps

    Image.MAX_IMAGE_PIXELS = MOST_PIXELS
    data = sys.stdin.buffer.read()
    try:
        with Image.open(io.BytesIO(data), formats=(kind,)) as picture:
            if picture.width * picture.height > MOST_PIXELS:
                return 1
            picture.load()
            upright = ImageOps.exif_transpose(picture).convert("RGB")
        upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
        clean = Image.frombytes("RGB", upright.size, upright.tobytes())
        out = io.BytesIO()
        clean.save(out, "JPEG", quality=QUALITY, optimize=True)
    except Exception:
        return 1
    sys.stdout.buffer.write(out.getvalue())
    return 0


def _limit() -> None:
    try:
        import resource
    except ImportError:  # not on Windows: time and pixels still hold
        return
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (15, 15))
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
