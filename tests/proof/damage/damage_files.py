"""Damage to pages, windows and the file around them: what a row does where no single mark is changed.

In: a copy of a kit. Out: where the damage is. Everything is done to objects of the file, as any program that
writes it again might do it.
"""

from __future__ import annotations

from io import BytesIO
from types import MappingProxyType
from typing import Any

from damage_edits import (
    Edit,
    NotHereError,
    Where,
    body,
    bounds,
    names_of,
    of_window,
    one,
)
from damaging import KitCopy, Mark, Matrix, Operator, Page, about, op, rectangle, stream, times
from pypdf import PdfWriter
from pypdf.generic import (
    ArrayObject,
    BooleanObject,
    DictionaryObject,
    FloatObject,
    NameObject,
    NumberObject,
    TextStringObject,
)

SCALE_TAGS = ("hkScaleBar", "hkScaleBarTick", "hkTestSquare")


def names(**entries: Any) -> DictionaryObject:
    """A dictionary of names and numbers as they stand in a file."""
    return DictionaryObject({NameObject(f"/{key}"): _value(value) for key, value in entries.items()})


def _value(value: Any) -> Any:
    if isinstance(value, bool):
        return BooleanObject(value)
    if isinstance(value, str):
        return NameObject(value) if value.startswith("/") else TextStringObject(value)
    if isinstance(value, list | tuple):
        return ArrayObject(map(_value, value))
    if isinstance(value, int):
        return NumberObject(value)
    return FloatObject(value) if isinstance(value, float) else value


# Pages


def _kids(kit: KitCopy) -> Any:
    """The row of all pages."""
    tree = kit.catalog["/Pages"].get_object()
    assert all(kid.get_object()["/Type"] == "/Page" for kid in tree["/Kids"])
    return tree


def pages_gone(tag: str, *, all_of_them: bool = False, others: bool = False) -> Edit:
    """The last page with such a mark taken out, or all, or all but that; without a tag the last page."""

    def edit(kit: KitCopy) -> Where:
        tree = _kids(kit)
        found = [page.number for page in kit.pages if not tag or any(mark.tag == tag for mark in page.marks)]
        last = found[-1:]
        out = found if all_of_them else [number for number in found if number not in last] if others else last
        if not out:
            raise NotHereError
        sheets = [page.number for page in kit.sheets]
        tree[NameObject("/Kids")] = ArrayObject(
            kid for number, kid in enumerate(tree["/Kids"], start=1) if number not in out
        )
        tree[NameObject("/Count")] = NumberObject(len(tree["/Kids"]))
        return Where(None, (f"sheet {sheets.index(out[0]) + 1}",) if out[0] in sheets else ())

    return edit


def page_before() -> Edit:
    """A blank page before all others."""

    def edit(kit: KitCopy) -> Where:
        tree = _kids(kit)
        blank = DictionaryObject(tree["/Kids"][0].get_object())
        blank[NameObject("/Contents")] = kit.add(stream(""))
        tree["/Kids"].insert(0, kit.add(blank))
        tree[NameObject("/Count")] = NumberObject(len(tree["/Kids"]))
        return Where(1)

    return edit


def handed_down(key: str, value: Any) -> Edit:
    """An entry of the tree of pages, which pages that have none of their own take over."""

    def edit(kit: KitCopy) -> Where:
        tree = _kids(kit)
        for kid in tree["/Kids"]:
            kid.get_object().pop(key, None)
        tree[NameObject(key)] = names(O=SCRIPT) if value == "script" else _value(value)
        return Where()

    return edit


def tree_turned() -> Edit:
    """Pages parted among two nodes of their tree, the second half first."""

    def edit(kit: KitCopy) -> Where:
        tree = _kids(kit)
        kids, half = list(tree["/Kids"]), len(tree["/Kids"]) // 2
        nodes = []
        for part in (kids[half:], kids[:half]):
            node = names(Type="/Pages", Count=len(part))
            node[NameObject("/Kids")] = ArrayObject(part)
            node[NameObject("/Parent")] = tree.indirect_reference
            nodes.append(kit.add(node))
            for kid in part:
                kid.get_object()[NameObject("/Parent")] = nodes[-1]
        tree[NameObject("/Kids")] = ArrayObject(nodes)
        return Where()

    return edit


def encrypted(kit: KitCopy) -> Where:
    """A copy that opens without a password, and is encrypted all the same."""
    kit.writer.encrypt("", "owner", algorithm="RC4-128")
    return Where()


def every_page(key: str, value: Any) -> Edit:
    """An entry of every page."""

    def edit(kit: KitCopy) -> Where:
        for kid in _kids(kit)["/Kids"]:
            kid.get_object()[NameObject(key)] = _value(value)
        return Where()

    return edit


def updated(key: str, value: Any) -> Edit:
    """An entry of the last sheet's page, by an update behind the end of the file."""

    def edit(kit: KitCopy) -> Where:
        number = kit.sheets[-1].number

        def appended(data: bytes) -> bytes:
            writer = PdfWriter(BytesIO(data), incremental=True)
            writer.pages[number - 1][NameObject(key)] = _value(value)
            out = BytesIO()
            writer.write(out)
            return out.getvalue()

        kit.after.append(appended)
        return Where(number)

    return edit


def content_elsewhere(kit: KitCopy) -> Where:
    """A stream whose data stands in another file."""
    page = kit.sheets[-1]
    held = stream(page.content, F=TextStringObject("other.txt"))
    page.page[NameObject("/Contents")] = kit.add(held)
    return Where(page.number)


def other_grey(kit: KitCopy) -> Where:
    """Another colour in the place of grey on the last sheet."""
    page = kit.sheets[-1]
    tint = names(FunctionType=2, Domain=[0, 1], C0=[1], C1=[1], N=1)
    page.resource(
        "/ColorSpace", "/DefaultGray", ArrayObject([*_value(["/Separation", "/All", "/DeviceGray"]), tint])
    )
    return Where(page.number)


def bookmarks(change: str) -> Edit:
    """The first bookmark called otherwise, or leading to the last page."""

    def edit(kit: KitCopy) -> Where:
        first = kit.catalog["/Outlines"].get_object()["/First"].get_object()
        if change == "called":
            first[NameObject("/Title")] = TextStringObject("Sheet 9")
            return Where(1)
        last = _kids(kit)["/Kids"][-1]
        first[NameObject("/Dest")] = ArrayObject([last, NameObject("/Fit")])
        return Where(1)

    return edit


def sheet_again(*, blank: bool = False) -> Edit:
    """The last template sheet once more behind itself, with everything or with nothing on it."""

    def edit(kit: KitCopy) -> Where:
        tree, sheet = _kids(kit), kit.sheets[-1]
        copied = DictionaryObject(tree["/Kids"][sheet.number - 1].get_object())
        if blank:
            copied[NameObject("/Contents")] = kit.add(stream(""))
        tree["/Kids"].insert(sheet.number, kit.add(copied))
        tree[NameObject("/Count")] = NumberObject(len(tree["/Kids"]))
        return Where(sheet.number + blank)  # of two alike either is one too many

    return edit


def _two_sheets(kit: KitCopy) -> tuple[Page, Page]:
    if len(kit.sheets) < 2:
        raise NotHereError
    return kit.sheets[0], kit.sheets[-1]


def sheets_swapped() -> Edit:
    """The first and the last template sheet in each other's place."""

    def edit(kit: KitCopy) -> Where:
        first, last = _two_sheets(kit)
        kids = _kids(kit)["/Kids"]
        kids[first.number - 1], kids[last.number - 1] = kids[last.number - 1], kids[first.number - 1]
        return Where(first.number)

    return edit


def contents_swapped() -> Edit:
    """What the first and the last template sheet show, in each other's place."""

    def edit(kit: KitCopy) -> Where:
        first, last = (sheet.page for sheet in _two_sheets(kit))
        key = NameObject("/Contents")
        first[key], last[key] = last.raw_get(key), first.raw_get(key)
        return Where(kit.sheets[0].number)

    return edit


def whole_page(*matrix: float, every: bool = False) -> Edit:
    """Everything on the last sheet, or on every page, led through a matrix, in mm of the paper."""

    def edit(kit: KitCopy) -> Where:
        sheet = kit.sheets[-1]
        for page in kit.pages if every else (sheet,):
            page.begin(op("cm", *(f"{value:.6f}" for value in matrix)))
        return Where(kit.sheets[0].number if every else sheet.number)

    return edit


def scaled_but_bars(across: float, down: float) -> Edit:
    """All marks and clips of all sheets scaled about the paper's middle, all that a maker measures kept."""

    def edit(kit: KitCopy) -> Where:
        for sheet in kit.sheets:
            wide, high = sheet.size
            matrix = about((wide / 2, high / 2), across, 0, 0, down)
            kept = [mark for mark in sheet.marks if mark.tag in SCALE_TAGS]
            sheet.operators = [
                one
                for place, each in enumerate(sheet.operators)
                for one in ((each,) if any(m.first < place < m.last for m in kept) else each.moved(matrix))
            ]
        return Where(kit.sheets[0].number)

    return edit


def boxed(box: str, shares: tuple[float, float, float, float]) -> Edit:
    """A box of the last sheet, in shares of its width and height."""

    def edit(kit: KitCopy) -> Where:
        sheet = kit.sheets[-1]
        wide, high = map(float, sheet.page.mediabox[2:])
        left, bottom, right, top = shares
        sheet.page[NameObject(box)] = rectangle(left * wide, bottom * high, right * wide, top * high)
        return Where(sheet.number)

    return edit


def rounded() -> Edit:
    """The last sheet's paper in whole units, as programs write that know A4 as 595 x 842."""

    def edit(kit: KitCopy) -> Where:
        sheet = kit.sheets[-1]
        wide, high = (float(side) for side in sheet.page.mediabox[2:])
        if (round(wide), round(high)) != (595, 842):
            raise NotHereError
        sheet.page[NameObject("/MediaBox")] = rectangle(0, 0, 595, 842)
        return Where(sheet.number)

    return edit


def page_entry(key: str, value: Any) -> Edit:
    """An entry of the last sheet's page."""

    def edit(kit: KitCopy) -> Where:
        sheet = kit.sheets[-1]
        sheet.page[NameObject(key)] = names(O=SCRIPT) if value == "script" else _value(value)
        return Where(sheet.number)

    return edit


def in_form(matrix: Matrix, shown: tuple[float, float, float, float], *, layer: bool = False) -> Edit:
    """All the last sheet draws in a form, which has a matrix and a box, in shares of the page, and may be a
    layer's."""

    def edit(kit: KitCopy) -> Where:
        sheet = kit.sheets[-1]
        wide, high = map(float, sheet.page.mediabox[2:])
        box = rectangle(shown[0] * wide, shown[1] * high, shown[2] * wide, shown[3] * high)
        form = stream(
            "\n".join(map(str, sheet.operators)),
            Type=NameObject("/XObject"),
            Subtype=NameObject("/Form"),
            BBox=box,
            Matrix=rectangle(*matrix),
            Resources=sheet.resources,
        )
        if layer:
            form[NameObject("/OC")] = kit.add(names(Type="/OCG", Name="layer"))
        sheet.resource("/XObject", "/Whole", kit.add(form))
        sheet.operators = [op("Do", "/Whole")]
        return Where(sheet.number)

    return edit


# Windows


def window(matrix: Matrix | None, *, clip: float | None = None, place: int = -1) -> Edit:
    """A window with all it holds led through a matrix about its middle, or gone, or clipped."""

    def edit(kit: KitCopy) -> Where:
        marks = of_window(kit, place)
        page = kit.page(marks[0].page)
        left, bottom, right, top = bounds(page, [mark for mark in marks if mark.tag == "hkOutline"])
        at = ((left + right) / 2, (bottom + top) / 2)
        for first, last in sorted({page.group(mark) for mark in marks}, reverse=True):
            if matrix is None and clip is None:
                del page.operators[first : last + 1]
            elif matrix is None:
                cut = (op("re", left, bottom, (right - left) * clip, top - bottom), op("W"), op("n"))
                page.operators[first + 1 : first + 1] = cut
            else:
                page.operators.insert(first + 1, op("cm", *(f"{value:.6f}" for value in _about(at, matrix))))
        alone = {mark.window for mark in page.marks if mark.tag == "hkOutline"} == {marks[0].window}
        return Where(page.number, () if alone and matrix else (f'"{marks[0].says("Piece")}"',))

    return edit


def _about(at: tuple[float, float], matrix: Matrix) -> Matrix:
    a, b, c, d, e, f = matrix
    return times((1, 0, 0, 1, e, f), about(at, a, b, c, d))


def windows_swapped() -> Edit:
    """Two windows of one sheet, each with all it holds, in each other's place."""

    def edit(kit: KitCopy) -> Where:
        for sheet in reversed(kit.sheets):
            shown = list(dict.fromkeys(mark.window for mark in sheet.marks if mark.tag == "hkOutline"))
            if len(shown) > 1:
                break
        else:
            raise NotHereError
        places, groups = [], []
        for each in (shown[0], shown[-1]):
            marks = [mark for mark in sheet.marks if mark.window == each]
            left, bottom, *_ = bounds(sheet, [mark for mark in marks if mark.tag == "hkOutline"])
            places.append((left, bottom))
            groups.append({sheet.group(mark)[0] for mark in marks})
        (x, y), (xx, yy) = places
        away, back = op("cm", "1 0 0 1", xx - x, yy - y), op("cm", "1 0 0 1", x - xx, y - yy)
        for first in sorted(groups[0] | groups[1], reverse=True):
            sheet.operators.insert(first + 1, away if first in groups[0] else back)
        return Where(sheet.number, (f'"{shown[0][0]}"',))

    return edit


# What makes ink unseen

# States of ISO 32000-1, 8.4.5, under which something is drawn.
FAINT = MappingProxyType(
    {
        "with opacity 0": {"CA": 0.0, "ca": 0.0},
        "with opacity 0.05": {"CA": 0.05, "ca": 0.05},
        "blended so that it lightens": {"BM": "/Screen"},
        "blended by one of several names": {"BM": ["/None", "/Lighten"]},
        "with a pen of 0 by its state": {"LW": 0.0},
        "with dashes by its state": {"D": [[0.01, 50.0], 0]},
        "under a soft mask": {"SMask": "mask"},
        "under a halftone of its own": {
            "HT": names(HalftoneType=1, Frequency=1, Angle=0, SpotFunction="/Round")
        },
        "under a transfer function": {"TR": names(FunctionType=2, Domain=[0, 1], C0=[1], C1=[1], N=1)},
        "with black made otherwise": {"BG": names(FunctionType=2, Domain=[0, 1], C0=[0], C1=[0], N=1)},
    }
)


def states(tag: str, **state: Any) -> Edit:
    """One mark drawn under a state of graphics."""

    def edit(kit: KitCopy) -> Where:
        mark = _one(kit, tag)
        page = kit.page(mark.page)
        entries = dict(state)
        if entries.get("SMask") == "mask":
            entries["SMask"] = names(S="/Luminosity", G=kit.add(_form(page, "")))
        page.resource("/ExtGState", "/Faint", kit.add(names(**entries)))
        body(_last_state)(page, mark)
        return Where(page.number, names_of(mark))

    return edit


def _last_state(found: list[Operator]) -> list[Operator]:
    """The state set just before the path, so that no pen undoes it."""
    at = next(place for place, each in enumerate(found) if each.name in ("m", "re"))
    pen = [each for each in found[:at] if each.name in ("w", "d", "G")]
    return [op("q"), *found[:at], op("gs", "/Faint"), *found[at:], op("Q"), *pen]


def _one(kit: KitCopy, tag: str) -> Mark:
    found = one(tag)(kit)
    if not found:
        raise NotHereError
    return found[0]


def _form(page: Page, content: str) -> Any:
    return stream(
        content,
        Type=NameObject("/XObject"),
        Subtype=NameObject("/Form"),
        BBox=rectangle(0, 0, *map(float, page.page.mediabox[2:])),
        Group=names(S="/Transparency", CS="/DeviceGray"),
    )


def layered(tag: str, *, printed: bool, seen: bool = False) -> Edit:
    """One mark in a layer that is off, or that is seen and not printed."""

    def edit(kit: KitCopy) -> Where:
        mark = _one(kit, tag)
        page = kit.page(mark.page)
        layer = names(Type="/OCG", Name="layer")
        if seen:
            layer[NameObject("/Usage")] = names(Print=names(PrintState="/ON" if printed else "/OFF"))
        layer = kit.add(layer)
        configuration = names(Name="plain")
        if seen:
            usage = names(Event="/Print", OCGs=[layer], Category=["/Print"])
            configuration[NameObject("/AS")] = ArrayObject([usage])
        else:
            configuration[NameObject("/OFF")] = ArrayObject([layer])
        kit.catalog[NameObject("/OCProperties")] = names(OCGs=[layer], D=configuration)
        page.resource("/Properties", "/Layer", layer)
        first, last = mark.first, mark.last
        page.operators[first : last + 1] = [
            op("BDC", "/OC", "/Layer"),
            *page.operators[first : last + 1],
            op("EMC"),
        ]
        return Where(page.number, names_of(mark))

    return edit


def covered(how: str) -> Edit:
    """Something opaque painted over a window of the last sheet, or over a part of it."""

    def edit(kit: KitCopy) -> Where:
        marks = of_window(kit)
        page = kit.page(marks[0].page)
        wide, high = page.size
        left, bottom, right, top = bounds(page, [mark for mark in marks if mark.tag == "hkOutline"])
        left, bottom, right, top = max(left, 0), max(bottom, 0), min(right, wide), min(top, high)
        if how in ("line", "one hole"):
            holes = kit.marks("hkHole")
            if not holes:
                raise NotHereError
            hole = holes[len(holes) // 2]
            page, marks = kit.page(hole.page), [hole]
            left, bottom, right, top = bounds(page, [hole])
        if how == "spot":  # a quarter of the way along the longest straight line of the outline that is seen
            left, bottom, right, top = (
                left - 3,
                bottom + (top - bottom) / 4,
                left + 3,
                bottom + (top - bottom) / 4 + 6,
            )
        where = Where(page.number, names_of(marks[0])[:1] if how != "shading" else ())
        over = (left, bottom, right - left, top - bottom)
        field = op("re", *over)
        placed = op("cm", over[2], 0.0, 0.0, over[3], left, bottom)
        if how in ("rectangle", "one hole", "spot"):
            page.end(op("q"), op("g", 1.0), field, op("f"), op("Q"))
        elif how == "black":
            page.end(op("q"), op("g", 0.0), field, op("f"), op("Q"))
        elif how == "line":
            across = (op("m", left - 5, (bottom + top) / 2), op("l", right + 5, (bottom + top) / 2))
            page.end(op("q"), op("G", 1.0), op("w", 4.0), *across, op("S"), op("Q"))
        elif how == "image":
            image = stream(
                b"\xff",
                Type=NameObject("/XObject"),
                Subtype=NameObject("/Image"),
                Width=NumberObject(1),
                Height=NumberObject(1),
                BitsPerComponent=NumberObject(8),
                ColorSpace=NameObject("/DeviceGray"),
            )
            page.resource("/XObject", "/White", kit.add(image))
            page.end(op("q"), placed, op("Do", "/White"), op("Q"))
        elif how == "inline image":
            data = Operator((), "BI /W 1 /H 1 /BPC 8 /CS /G ID \xff EI")
            page.end(op("q"), placed, data, op("Q"))
        elif how == "shading":
            shade = names(
                ShadingType=2,
                ColorSpace="/DeviceGray",
                Coords=[0, 0, 1, 0],
                Extend=[True, True],
                Function=names(FunctionType=2, Domain=[0, 1], C0=[1], C1=[1], N=1),
            )
            page.resource("/Shading", "/White", kit.add(shade))
            page.end(op("sh", "/White"))
        elif how == "second content":
            pair = [_own_content(kit, page), kit.add(stream(_in_points(f"1 g {field} f")))]
            page.page[NameObject("/Contents")] = ArrayObject(pair)
        elif how == "form":
            page.resource("/XObject", "/White", kit.add(_form(page, _in_points(f"1 g {field} f"))))
            page.operators += [op("Do", "/White")]
        return where

    return edit


def _own_content(kit: KitCopy, page: Page) -> Any:
    return page.page.raw_get("/Contents")


def _in_points(content: str) -> str:
    return f"q 2.834645669 0 0 2.834645669 0 0 cm {content} Q"


GROUP = names(S="/Transparency", CS=["/CalGray", names(WhitePoint=[1, 1, 1])])
SCRIPT = names(S="/JavaScript", JS="app.alert('print at 97 %')")
LAUNCH = names(S="/Launch", F="viewer")


def annotated(kind: str) -> Edit:
    """An annotation on the last sheet."""

    def edit(kit: KitCopy) -> Where:
        page = kit.sheets[-1]
        wide, high = map(float, page.page.mediabox[2:])
        over = rectangle(wide * 0.1, high * 0.1, wide * 0.9, high * 0.9)
        note = names(Type="/Annot", Subtype=f"/{kind}", F=4)
        note[NameObject("/Rect")] = over
        if kind == "Link":
            note[NameObject("/A")] = SCRIPT
        else:
            shown = _form(page, f"1 g 0 0 {wide} {high} re f")
            note[NameObject("/AP")] = names(N=kit.add(shown))
        if kind == "FreeText":
            note[NameObject("/Contents")] = TextStringObject("cut 3 mm inside")
            note[NameObject("/DA")] = TextStringObject("/Helv 12 Tf 0 g")
        page.page[NameObject("/Annots")] = ArrayObject([kit.add(note)])
        return Where(page.number)

    return edit


def written_on(which: str, what: str) -> Edit:
    """Ink more on the last sheet, on the first page, on the last page, or on every page."""

    def edit(kit: KitCopy) -> Where:
        if which == "every":
            for page in kit.pages:
                page.end(op("BDC", "/hkSheet", "<<", ">>"), op("w", 0.25), *_across(page), op("EMC"))
            return Where()
        pages = {"sheet": kit.sheets[-1], "first": kit.page(1), "plan": kit.page(kit.page_count)}
        page = pages[which]
        if what == "text":
            page.end(*TEXT)
        else:
            line = _across(page)
            x, y = (value / 2 for value in page.size)
            page.end(
                *{
                    "line": (op("q"), op("w", 0.25), *line, op("Q")),
                    "heavy line": (op("q"), op("w", 0.5), *line, op("Q")),
                    "field": (op("re", x - 5, y - 5, 8.0, 8.0), op("f")),
                    "tagged line": (op("BDC", "/hkSheet", "<<", ">>"), op("w", 0.25), *line, op("EMC")),
                }[what]
            )
        return Where(page.number)

    return edit


def _across(page: Page) -> tuple[Operator, ...]:
    """A line through the middle of a page."""
    x, y = (value / 2 for value in page.size)
    return op("m", x - 20, y), op("l", x + 30, y + 1), op("S")


TEXT = (
    op("BT"),
    op("Tm", 1.0, 0.0, 0.0, 1.0, 60.0, 100.0),
    op("Tf", "/F1+0", 5.0),
    op("Tj", f"<{b'fit to page'.hex()}>"),
    op("ET"),
)


# The file


def preferences(**entries: Any) -> Edit:
    """Other viewer preferences; None takes one out."""

    def edit(kit: KitCopy) -> Where:
        said = kit.catalog["/ViewerPreferences"].get_object()
        for key, value in entries.items():
            said.pop(NameObject(f"/{key}"), None)
            if value is not None:
                said[NameObject(f"/{key}")] = _value(value)
        return Where()

    return edit


def catalog(key: str, what: str | None) -> Edit:
    """An entry of the file's catalog, or one taken out."""

    def edit(kit: KitCopy) -> Where:
        root = kit.catalog
        if what is None:
            if key not in root:
                raise NotHereError
            del root[key]
        elif what == "labels":
            root[NameObject("/PageLabels")] = names(Nums=[0, names(S="/D", St=41)])
            return Where(1)
        elif what == "file":
            held = kit.add(stream("97 %", Type=NameObject("/EmbeddedFile")))
            spec = names(Type="/Filespec", F="settings.txt", UF="settings.txt", EF=names(F=held))
            kit.attached.extend([TextStringObject("settings.txt"), kit.add(spec)])
        elif what == "form":
            root[NameObject("/AcroForm")] = names(Fields=[], NeedAppearances=True)
        elif key == "/Names":
            inner = root.get("/Names", DictionaryObject()).get_object()
            inner[NameObject("/JavaScript")] = names(Names=["open", SCRIPT])
            root[NameObject("/Names")] = inner
        elif key == "/AA":
            root[NameObject("/AA")] = names(WP=SCRIPT)
        else:
            root[NameObject(key)] = SCRIPT if what == "script" else LAUNCH
        return Where()

    return edit


def fonts(how: str) -> Edit:
    """The fonts of the file, which all pages share, changed; on the last page alone, where it says so."""

    def edit(kit: KitCopy) -> Where:
        held = kit.page(1).resources["/Font"].get_object()
        if how in ("exchanged", "gone from one"):
            page = kit.pages[-1]
            held = DictionaryObject(held)
            page.page[NameObject("/Resources")] = DictionaryObject(
                {**page.resources, NameObject("/Font"): held}
            )
        ours = [name for name in held if "/FontDescriptor" in held[name].get_object()]
        if how == "exchanged":
            first, last = ours[0], ours[-1]
            held[NameObject(first)], held[NameObject(last)] = held.raw_get(last), held.raw_get(first)
        for name in ours:
            font = held[name].get_object()
            descriptor = font["/FontDescriptor"].get_object()
            if how == "viewer":
                held[NameObject(name)] = kit.add(names(Type="/Font", Subtype="/Type1", BaseFont="/Helvetica"))
            elif how == "no text":
                font.pop("/ToUnicode", None)
            elif how == "letters":
                read = font["/ToUnicode"].get_object().get_data()
                font[NameObject("/ToUnicode")] = kit.add(stream(read.replace(b"<0033>", b"<0038>")))
            elif how == "another program":
                descriptor[NameObject("/FontFile3")] = kit.add(stream("", Subtype=NameObject("/OpenType")))
            elif how == "Type3":
                font[NameObject("/Subtype")] = NameObject("/Type3")
            elif how in ("gone", "gone from one"):
                del held[name]
            elif how == "not embedded":
                descriptor.pop("/FontFile2", None)
            elif how == "widths":
                font[NameObject("/Widths")] = ArrayObject(
                    NumberObject(int(width) * 2) for width in font["/Widths"].get_object()
                )
        return Where()

    return edit
