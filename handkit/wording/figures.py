"""Figures: numbers as texts show them, for findings, the plan and the drawing alike.

In: lengths in mm, areas in mm², shares, points, counts. Out: text, with no zeros that say nothing and
never −0.

In which unit a thing is written for people, and with how many decimals or in which fractions, stands here
alone: a `Measure` for each kind of figure, all of one kind of file together as `Units`. Who writes a
length asks the units of the file it comes from: a project, a piece, a seam, a place in the file have them.
What other programs read is mm, and goes through none of this.

Words: a *fraction* is one of an inch, as an inch rule has it: 2 5/16.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import ceil, floor, log10
from types import MappingProxyType

import msgspec

from handkit.units import MM2_PER_DM2, MM2_PER_FT2, MM2_PER_IN2, MM_PER_INCH

_NOISE = 1e-6  # of thousandths: what sums of floats leave


class Measure(msgspec.Struct, frozen=True):
    """How something is written: its unit, how many mm or mm² that is, how many decimals, all of them or
    (`short`) without zeros at the end. Of inches also down to which fraction: it is written where it is no
    further off than half of the last decimal, so that with no decimals there are fractions alone."""

    unit: str
    size: float
    decimals: int
    short: bool = False
    finest: int = 0

    def number(self, value: float) -> str:
        """Of mm or mm², the number alone; what is there is never written as nothing.

        >>> METRIC.cut_thread.number(1025.6), METRIC.thread.text(12345.0), METRIC.area.text(54321.0)
        ('1026', '12.35 m', '5.43 dm²')
        >>> METRIC.area.text(49.0), METRIC.area.text(0.0)
        ('<0.01 dm²', '0.00 dm²')
        >>> INCHES.length.text(58.7), INCHES.length.text(58.74), INCHES.cut_thread.text(1025.6)
        ('2.311 in', '2 5/16 in', '40 3/8 in')
        """
        told = value / self.size
        decimals = plain(told, self.decimals) if self.short else f"{told:z.{self.decimals}f}"
        text = self._fraction(value) or decimals
        if value <= 0 or self.short or text.strip("0."):
            return text
        return f"<1/{self.finest}" if self.finest else f"<{10.0**-self.decimals:.{self.decimals}f}"

    def text(self, value: float) -> str:
        """The number and its unit."""
        return f"{self.number(value)} {self.unit}"

    def several(self, values: Iterable[float], between: str = " and ") -> str:
        """Several that belong together, such as 1026 and 880 mm."""
        return f"{between.join(map(self.number, values))} {self.unit}"

    def across(self, *values: float) -> str:
        """Numbers across one another, such as 20 × 12.5."""
        return " × ".join(map(self.number, values))

    def no_less(self, value: float) -> float:
        """In mm, the least that it can write in full and that is no less.

        >>> METRIC.about.text(METRIC.about.no_less(318.2)), INCHES.about.text(INCHES.about.no_less(318.2))
        ('319 mm', '12 9/16 in')
        """
        step = self.size / (self.finest or 10**self.decimals)
        return ceil(value / step - _NOISE) * step

    def _fraction(self, value: float) -> str:
        """The coarsest fraction that tells it, "" where none does."""
        length = abs(value / self.size)
        nearest = round(length * self.finest)
        if not self.finest or abs(nearest / self.finest - length) > 0.5 * 10.0**-self.decimals:
            return ""
        whole, over = divmod(nearest, self.finest)
        under = self.finest
        while over and not over % 2:
            over, under = over // 2, under // 2
        text = " ".join((*(str(whole),) * bool(whole or not over), *(f"{over}/{under}",) * bool(over)))
        return f"-{text}" if value < 0 and nearest else text


class Units(msgspec.Struct, frozen=True):
    """How all that people read is written for a file's unit."""

    length: Measure
    rough: Measure  # of what is measured and not marked out: stacks, ways
    fine: Measure  # where hundredths decide: how near holes are
    sizes: Measure  # of pieces, room for items: in columns
    marked: Measure  # what is marked out by figures: decimals alone, within 0.02 mm
    read: Measure  # as one reads a rule laid on paper
    proved: Measure  # what a proof measured
    off: Measure  # how far that is beside where it should be
    pitch: Measure
    hint: Measure  # common practice, in round figures
    about: Measure  # what need not be true, or is cut a little longer
    cut_thread: Measure  # one thread to cut
    thread: Measure  # threads together
    spool: Measure  # as it is sold
    area: Measure
    material: tuple[Measure, ...]  # what to buy
    # What is advised is set out in whole steps, or in as fine ones as are told: mm.
    whole: float = 1.0
    part: float = 0.1
    finest: float = 0.01
    plain: float = 1.0  # how many mm a plain number of the file is
    written: Mapping[float, str] = MappingProxyType({})  # thicknesses in mm, as the file has them

    @property
    def unit(self) -> str:
        """Of lengths, for the heads of tables."""
        return self.length.unit

    def text(self, length: float) -> str:
        """A length.

        >>> METRIC.text(4.5), INCHES.text(4.5), INCHES.text(3.175)
        ('4.5 mm', '0.177 in', '1/8 in')
        """
        return self.length.text(length)

    def number(self, length: float) -> str:
        """A length whose unit is told elsewhere."""
        return self.length.number(length)

    def size(self, *lengths: float) -> str:
        """Lengths across one another.

        >>> METRIC.size(20, 12.5), INCHES.size(25.4, 12.7)
        ('20 × 12.5 mm', '1 × 1/2 in')
        """
        return f"{self.length.across(*lengths)} {self.unit}"

    def tool(self, length: float) -> str:
        """What is bought by the mm in every country: punches, irons, needles, thread.

        >>> METRIC.tool(0.8), INCHES.tool(0.8)
        ('0.8 mm', '1/32 in (0.8 mm)')
        """
        bought = (METRIC.length if self.unit == "mm" else METRIC.fine).text(length)
        return bought if self.unit == "mm" else f"{self.text(length)} ({bought})"

    def post(self, least: float, most: float) -> str:
        """The same of posts, of which some lengths fit.

        >>> METRIC.post(5.5875, 7.175), INCHES.post(5.5875, 7.175)
        ('5.6 to 7.2 mm', '0.22 to 0.282 in (5.6 to 7.2 mm)')
        """
        bought = METRIC.sizes.several((least, most), " to ")
        return bought if self.unit == "mm" else f"{self.sizes.several((least, most), ' to ')} ({bought})"

    def sold(self, length: float) -> str:
        """What is sold by the metre: thread on a spool.

        >>> METRIC.sold(25000), INCHES.sold(25000)
        ('25 m', '984 in (25 m)')
        """
        sold = METRIC.spool.text(length)
        return sold if self.unit == "mm" else f"{self.spool.text(length)} ({sold})"

    def point(self, at: tuple[float, float], *, decimals: int = 2) -> str:
        """A point as the project file writes it, in decimals.

        >>> METRIC.point((3.0, -0.25)), INCHES.point((3.0, -25.4))
        ('[3, -0.25]', '[0.118, -1]')
        """
        more = round(log10(self.plain))
        x, y = (plain(one / self.plain, decimals + more) for one in at)
        return f"[{x}, {y}]"

    def as_written(self, length: float) -> str:
        """A length as a plain number of the file.

        >>> METRIC.as_written(4.5), CENTIMETRES.as_written(4.5), INCHES.as_written(4.5)
        ('4.5', '0.45', '0.177165')
        """
        return f"{length / self.plain:g}"

    def at_least(self, length: float) -> str:
        """The lower end of what is allowed, the number alone: never less than it is.

        >>> METRIC.at_least(0.5), INCHES.at_least(0.5), INCHES.at_least(-10000)
        ('0.5', '0.02', '-393.7')
        """
        return f"{ceil(length / self.length.size * 1000 - _NOISE) / 1000:g}"

    def at_most(self, length: float) -> str:
        """The upper end, never more.

        >>> METRIC.at_most(50), INCHES.at_most(50), INCHES.at_most(25.4)
        ('50', '1.968', '1')
        """
        return f"{floor(length / self.length.size * 1000 + _NOISE) / 1000:g}"

    def thickness(self, length: float) -> str:
        """Of leather or cloth, as it was written.

        >>> INCHES.thickness(2.38125), INCHES.with_written({2.38125: "6 oz"}).thickness(2.38125)
        ('3/32 in', '6 oz')
        """
        return self.written.get(length) or self.text(length)

    def with_written(self, written: Mapping[float, str]) -> Units:
        """The same for a file that writes thicknesses so."""
        return msgspec.structs.replace(self, written=MappingProxyType(dict(written)))


_SQ_FT = Measure("sq ft", MM2_PER_FT2, 2)
METRIC = Units(
    length=Measure("mm", 1.0, 2, short=True),
    rough=Measure("mm", 1.0, 1, short=True),
    fine=Measure("mm", 1.0, 3, short=True),
    sizes=Measure("mm", 1.0, 1),
    marked=Measure("mm", 1.0, 2, short=True),
    read=Measure("mm", 1.0, 1),
    proved=Measure("mm", 1.0, 3),
    off=Measure("mm", 1.0, 2),
    pitch=Measure("mm", 1.0, 2),
    hint=Measure("mm", 1.0, 0),
    about=Measure("mm", 1.0, 0),
    cut_thread=Measure("mm", 1.0, 0),
    thread=Measure("m", 1000.0, 2),
    spool=Measure("m", 1000.0, 2, short=True),
    area=Measure("dm²", MM2_PER_DM2, 2),
    material=(Measure("dm²", MM2_PER_DM2, 1), _SQ_FT),
)
_THOUSANDTHS = Measure("in", MM_PER_INCH, 3, short=True, finest=32)
CENTIMETRES = msgspec.structs.replace(METRIC, plain=10.0)
INCHES = Units(
    whole=MM_PER_INCH / 16,
    part=MM_PER_INCH / 100,
    finest=MM_PER_INCH / 1000,
    plain=MM_PER_INCH,
    length=_THOUSANDTHS,
    rough=_THOUSANDTHS,
    fine=Measure("in", MM_PER_INCH, 4, short=True, finest=32),
    sizes=_THOUSANDTHS,
    marked=Measure("in", MM_PER_INCH, 3, short=True),
    read=Measure("in", MM_PER_INCH, 2),
    proved=Measure("in", MM_PER_INCH, 4),
    off=Measure("in", MM_PER_INCH, 4),
    pitch=_THOUSANDTHS,
    hint=Measure("in", MM_PER_INCH, 0, finest=2),
    about=Measure("in", MM_PER_INCH, 0, finest=16),
    cut_thread=Measure("in", MM_PER_INCH, 0, finest=8),
    thread=Measure("in", MM_PER_INCH, 0),
    spool=Measure("in", MM_PER_INCH, 0),
    area=Measure("sq in", MM2_PER_IN2, 1),
    material=(Measure("sq in", MM2_PER_IN2, 0), _SQ_FT),
)
# By the file's `unit`; "" is a file whose unit is faulty, which is told.
UNITS: Mapping[str, Units] = MappingProxyType({"": METRIC, "mm": METRIC, "cm": CENTIMETRES, "in": INCHES})


def plain(value: float, decimals: int = 2) -> str:
    """A number with so many decimals at most.

    >>> plain(12.0), plain(2.40), plain(0.3333, 3), plain(-0.001)
    ('12', '2.4', '0.333', '0')
    """
    text = f"{value:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def counted(number: int, one: str, many: str = "") -> str:
    """A number with its noun.

    >>> counted(1, "hole"), counted(3, "hole"), counted(2, "stitch", "stitches")
    ('1 hole', '3 holes', '2 stitches')
    """
    return f"{number} {one if number == 1 else many or one + 's'}"


def percent(share: float) -> str:
    """A share in percent, to a tenth.

    >>> percent(0.00867)
    '0.9 %'
    """
    return f"{share * 100:.1f} %"


def and_more(count: int) -> str:
    """What stands behind the worst of several; nothing where it is the only one.

    >>> and_more(1), and_more(4)
    ('', '; and 3 more')
    """
    return f"; and {count - 1} more" if count > 1 else ""
