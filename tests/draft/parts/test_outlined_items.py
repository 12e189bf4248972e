"""Items with an outline: what of their shape decides which size, worked by hand, and laws."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from math import cos, pi, sin
from pathlib import Path

import msgspec
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from handkit.assemble.assembler import assemble
from handkit.draft.drafter import draft
from handkit.draft.pattern import Fit, ItemOutline, Pattern
from handkit.punch.puncher import punch
from handkit.read.reader import read_project_text

law = settings(derandomize=True, deadline=None, max_examples=12)

ON_BACK = '[[part]]\nname = "p"\nkind = "{kind}"\non = "back"\nat = [200, 200]\n{more}\n'
ALONE = '[[part]]\nname = "p"\nkind = "{kind}"\n{more}\n'
# Every kind of part that holds items, with what else it needs.
KINDS = [
    (ON_BACK, "flat pocket", "shows = 40"),
    (ON_BACK, "flat pocket", "dividers = false"),
    (ON_BACK, "bowed pocket", "shows = 40"),
    (ON_BACK, "boxed pocket", "shows = 40"),
    (ON_BACK, "stepped pockets", "reveal = 30"),
    (ON_BACK, "holder row", "shows = 60\nstrap = 20"),
    (ALONE, "roll", "shows = 60"),
    (ALONE, "bag", ""),
]


def item(name: str, shape: str) -> str:
    return f'[[item]]\nname = "{name}"\nin = "p"\n{shape}\n'


def outlined(points: object, thickness: float = 3, more: str = "") -> str:
    listed = ", ".join(f"[{x}, {y}]" for x, y in points)  # type: ignore[attr-defined]
    return f"outline = [{listed}]\nthickness = {thickness}\n{more}"


def box(width: float, length: float) -> list[tuple[float, float]]:
    return [(0, 0), (width, 0), (width, length), (0, length)]


def corners(items: Iterable[ItemOutline]) -> list[tuple[str, set[tuple[float, float]]]]:
    """Of each item, wherever its points begin."""
    return [
        (each.item, {(round(x, 9), round(y, 9)) for x, y in each.path.flattened(sagitta=1)}) for each in items
    ]


def shapes(pattern: Pattern) -> object:
    """All that a kit is made from, but for where in the file things stand."""
    pieces = [
        (each.name, each.outline, [(line.name, line.path) for line in each.lines], corners(each.items))
        for each in pattern.pieces
    ]
    fits = [(fit.measure, fit.needed, fit.given, fit.least, fit.most) for fit in pattern.item_fits]
    return (
        pieces,
        fits,
        [(room.place, room.profiles, [held.section for held in room.items]) for room in pattern.rooms],
    )


@pytest.mark.parametrize(("form", "kind", "more"), KINDS, ids=[f"{kind} {more}" for _, kind, more in KINDS])
def test_a_rectangle_is_the_plain_item(
    form: str, kind: str, more: str, pattern_of: Callable[..., Pattern]
) -> None:
    part = form.format(kind=kind, more=more)
    plain = part + item("rule", "size = [26, 3, 140]") + item("file", "size = [18, 4, 150]")
    drawn = part + item("rule", outlined(box(26, 140))) + item("file", outlined(box(18, 150), 4))
    lying = [(y, x) for x, y in box(26, 140)]  # its long axis along x, as a tracing has it
    turned = part + item("rule", outlined(lying)) + item("file", outlined(box(18, 150), 4))
    expected = shapes(pattern_of(plain))
    assert shapes(pattern_of(drawn)) == expected
    assert shapes(pattern_of(turned)) == expected


def test_a_rectangle_is_the_plain_blade(pattern_of: Callable[..., Pattern]) -> None:
    part = '[[part]]\nname = "p"\nkind = "sheath"\nbelt = 40\ndrain = 4\n'
    for plain, drawn in (
        ("size = [22, 3, 110]", outlined(box(22, 110))),
        ("size = [22, 3, 110]\ntip = 30", outlined([(0, 0), (22, 30), (22, 110), (0, 110)])),
    ):
        assert shapes(pattern_of(part + item("k", drawn))) == shapes(pattern_of(part + item("k", plain)))


# A bodkin: 6 wide at its foot, evenly to 18 at 120 up, then a head 40 wide, 150 long in all.
BODKIN = [(17, 0), (23, 0), (29, 120), (40, 120), (40, 150), (0, 150), (0, 120), (11, 120)]


@pytest.mark.parametrize(
    ("shows", "wide"),
    [  # 6 + 12 · depth/120; what goes in is 150 + bow − shows deep, its bow (3 + 2.4 · (π/2 − 1))/2
        (90, 6 + 12 * (60 + (3 + 2.4 * 0.5707963) / 2) / 120),
        (60, 6 + 12 * (90 + (3 + 2.4 * 0.5707963) / 2) / 120),
        (10, 40),  # the head goes in, too
    ],
)
def test_a_flat_pocket_is_as_wide_as_what_goes_in(
    shows: float, wide: float, pattern_of: Callable[..., Pattern]
) -> None:
    """Between its rows the pocket has half a way over, wide + 3 + 2.4 · (π/2 − 1), and 2 of ease."""
    text = ON_BACK.format(kind="flat pocket", more=f"shows = {shows}") + item("bodkin", outlined(BODKIN))
    pattern = pattern_of(text)
    left, _, right, _ = pattern.piece("p").outline.bounds()
    assert right - left - 2 * 4 == pytest.approx(wide + 3 + 2.4 * 0.5707963 + 2, abs=1e-6)
    (lying,) = pattern.piece("p").items  # its middle is that of what goes in
    assert lying.path.bounds()[2] - lying.path.bounds()[0] == pytest.approx(40)


def test_a_strap_goes_round_what_passes_it(pattern_of: Callable[..., Pattern]) -> None:
    """Of 150 long with 70 to show, 80 pass the strap: 6 + 12 · 80/120 = 14 wide; the gap is beside that."""
    more = "shows = 70\nstrap = 20\ngap = 14"
    text = ON_BACK.format(kind="holder row", more=more) + item("bodkin", outlined(BODKIN))
    as_box = ON_BACK.format(kind="holder row", more=more) + item("bodkin", "size = [14, 3, 150]")
    pattern, plain = pattern_of(text), pattern_of(as_box)
    xs = [line.path.start[0] for line in pattern.piece("back").lines]
    assert xs[1] - xs[0] == pytest.approx(14 + 14)
    assert [line.path for line in pattern.piece("p strap").lines] == [
        line.path for line in plain.piece("p strap").lines
    ]
    (lying,) = pattern.piece("back").items
    middle = (lying.path.bounds()[0] + lying.path.bounds()[2]) / 2  # it is symmetrical
    assert middle == pytest.approx((xs[0] + xs[1]) / 2)


def test_a_sheath_keeps_its_distance_from_a_tapered_blade(pattern_of: Callable[..., Pattern]) -> None:
    """A traced knife: its point at (4, 0), the edge out to 24 at 40 up, the blade 100 long, then its handle.
    The leaf's edge is 2 of ease and 10 of welt outside the hull; the mouth is at the blade's end."""
    knife = [(4, 0), (24, 40), (24, 100), (30, 100), (30, 210), (0, 210), (0, 30)]
    part = '[[part]]\nname = "p"\nkind = "sheath"\nbelt = 40\nhandle_strap = 24\n'
    pattern = pattern_of(part + item("k", outlined(knife, 3, "blade = 100")))
    corners = {letter.name: letter.at for letter in pattern.piece("p").letters}
    half = 3.141592653589793 / 4 * (3 + 2.4)
    assert corners["D"] == pytest.approx((half + 24 + 12, 112))
    # The leaf's slanted edge B-C is 12 off the line from (4, 0) to (24, 40), both moved by half and the foot.
    (bx, by), (cx, cy) = corners["B"], corners["C"]
    length = ((cx - bx) ** 2 + (cy - by) ** 2) ** 0.5
    for x, y in ((half + 4, 12.0), (half + 24, 52.0)):
        assert abs((cx - bx) * (y - by) - (cy - by) * (x - bx)) / length == pytest.approx(12)
    lying, handle = pattern.piece("p").items
    assert lying.path.bounds()[3] - lying.path.bounds()[1] == pytest.approx(100)
    assert handle.item == "handle of k"
    assert handle.path.bounds() == pytest.approx((-half - 30, 112, -half, 222))  # as it was traced
    stated = pattern_of(part + item("k", outlined(knife, 3, "blade = 100\nhandle = [30, 15, 110]")))
    assert shapes(stated) == shapes(pattern)


def test_a_sheath_of_a_curved_blade_has_few_corners(pattern_of: Callable[..., Pattern]) -> None:
    """A quarter of a circle, radius 60, in 30 chords, and straight on for 40: no corner of the blade comes
    nearer than 2 of ease and 10 of welt to the leaf's edge, no corner of that is much farther off. Tangents t
    apart on radius r meet r(1/cos(t/2) − 1) beyond it: 0.5 of 60 is 14.8°, so seven corners at the most."""
    curve = [(60 * sin(k * pi / 60), 60 - 60 * cos(k * pi / 60)) for k in range(31)]
    points = [*curve, (60, 100), (0, 100)]
    pattern = pattern_of('[[part]]\nname = "p"\nkind = "sheath"\nbelt = 40\n' + item("k", outlined(points)))
    letters = pattern.piece("p").letters
    half = pi / 4 * (3 + 2.4)
    edge = [at for letter in letters if (at := letter.at)[0] > 0 and at[1] <= 112]
    assert 5 <= len(edge) <= 9
    line = shapely.LineString(edge)
    offs = [line.distance(shapely.Point(half + x, 12 + y)) for x, y in curve[1:]]
    assert min(offs) >= 12 - 1e-6
    blade = shapely.Polygon([(half + x, 12 + y) for x, y in points])
    assert max(blade.distance(shapely.Point(at)) for at in edge[1:-1]) <= 12.9


def test_heads_stand_clear_of_one_another(pattern_of: Callable[..., Pattern]) -> None:
    """Two heads 40 wide on shanks 10 wide: their middles are 40 and their ease apart; a short one between is
    no neighbour to a head: 10 wide, it stands as near as its own place takes it."""
    head = [(15, 0), (25, 0), (25, 120), (40, 120), (40, 150), (0, 150), (0, 120), (15, 120)]
    form = ON_BACK.format(kind="flat pocket", more="shows = 60")

    def middles(text: str) -> list[float]:
        bounds = [each.path.bounds() for each in pattern_of(text).piece("p").items]
        return [(left + right) / 2 for left, _, right, _ in bounds]

    one, two = middles(form + item("one", outlined(head)) + item("two", outlined(head)))
    assert two - one == pytest.approx(42)
    one, short = middles(form + item("one", outlined(head)) + item("short", "size = [10, 3, 110]"))
    assert short - one == pytest.approx(10 + 3 + 2.4 * 0.5707963 + 2)
    both = pattern_of(form + item("one", outlined(head)) + item("two", outlined(head)))
    assert [fit.fit for fit in both.item_fits] == [Fit.FITS, Fit.FITS]
    assert [str(each) for each in both.findings] == [
        f'p.toml:{line}: note: item "{name}": found a place 25.63 mm wider than it needs, so that heads '
        "stand clear of one another; where that is too loose, put a thing with a lower or narrower head "
        "between [heads-apart]"
        for line, name in ((13, "one"), (19, "two"))
    ]


@law
@given(off=st.floats(0, 4), more=st.floats(0.1, 4), kind=st.sampled_from(KINDS))
def test_what_is_less_sure_has_more_room(
    off: float, more: float, kind: tuple[str, str, str], pattern_of: Callable[..., Pattern]
) -> None:
    """Room on both sides is at least what the outline may be off, whatever ease is asked for."""
    form, name, rest = kind
    if name == "stepped pockets":
        rest += "\nwidth = 100"

    def given_of(uncertainty: float) -> dict[str, tuple[float, float]]:
        text = form.format(kind=name, more=f"{rest}\nease = 0.5")
        text += item("rule", outlined(box(60, 140), 8, f"uncertainty = {uncertainty}"))
        fits = [fit for fit in pattern_of(text).item_fits if fit.measure != "thickness"]
        return {fit.measure: (fit.given - fit.needed, fit.least) for fit in fits}

    less, wide = given_of(off), given_of(off + more)
    for measure, (room, least) in wide.items():
        assert least >= 2 * (off + more) - 1e-9
        assert room >= less[measure][0] - 1e-9
        if measure == "width":
            assert room >= 2 * (off + more) - 1e-9


@law
@given(share=st.floats(1, 1.6), kind=st.sampled_from(KINDS))
def test_a_larger_outline_takes_no_less(
    share: float, kind: tuple[str, str, str], pattern_of: Callable[..., Pattern]
) -> None:
    form, name, rest = kind

    def width(scale: float) -> float:
        points = [(4 * x * scale, y) for x, y in BODKIN]
        pattern = pattern_of(form.format(kind=name, more=rest) + item("bodkin", outlined(points, 8)))
        return sum(fit.given for fit in pattern.item_fits if fit.measure in ("width", "girth"))

    assert width(share) >= width(1) - 1e-9


def test_the_template_shows_the_true_outline_and_its_mirror_image(pattern_of: Callable[..., Pattern]) -> None:
    hook = [(0, 0), (12, 0), (14, 100), (40, 110), (40, 120), (0, 120)]
    text = ON_BACK.format(kind="flat pocket", more="shows = 60") + item("hook", outlined(hook))
    whole = 'format = 1\n[material]\nthickness = 2\n[[piece]]\nname = "back"\nrectangle = [600, 600]\n' + text
    project = read_project_text(whole, file="p.toml", folder=Path())
    for other_hand in (False, True):
        pattern = draft(msgspec.structs.replace(project, mirrored=other_hand))
        (lying,) = pattern.piece("p").items
        points = [segment.start for segment in lying.path.segments]
        (x0, y0) = points[0]
        way = -1 if other_hand else 1
        assert [(way * (x - x0), y - y0) for x, y in points] == [pytest.approx(at) for at in hook]


@pytest.mark.parametrize(("apart", "clash"), [(40, False), (12, False), (8, True)])
def test_clashes_are_those_of_the_outline_and_not_of_its_box(apart: float, clash: bool) -> None:
    """A sickle, 10 wide, whose head reaches 30 to the right from 100 up, and beside it a thing 10 wide and 90
    long that ends under that head: as boxes they overlap wherever less than 40 are between their left edges;
    they themselves where less than 10 are."""
    head = [(0, 0), (10, 0), (10, 100), (40, 150), (40, 160), (0, 110)]
    text = 'format = 1\n[material]\nthickness = 2\n[[piece]]\nname = "back"\nrectangle = [600, 600]\n'
    places = {"one": (100.0, 100, head), "two": (100.0 + apart, 20, box(10, 90))}  # both 20 up from below
    for name, (x, y, points) in places.items():
        text += f'[[part]]\nname = "{name}"\nkind = "holder row"\non = "back"\nat = [{x}, {y}]\n'
        text += "shows = 60\nstrap = 20\n" + item(name, outlined(points)).replace('"p"', f'"{name}"')
    project = read_project_text(text, file="p.toml", folder=Path())
    article = assemble(punch(draft(project)))
    assert ("clash/thing" in [each.key for each in article.clashes]) is clash
