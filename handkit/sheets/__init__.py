"""Step 5, sheets: `Punched` and paper in; `Sheets` out: what lies where on which sheet.

The door for outlines of any origin, without a project file, is `handkit.sheets.engine.place`: plain
polygons in mm and a paper in, sheets with windows and joins out.

>>> from handkit.sheets.engine import Shape, place
>>> from handkit.paper import paper_named
>>> tray = Shape("tray", ring=((0, 0), (250, 0), (250, 180), (0, 180)))
>>> placed = place([tray], paper=paper_named("A4"), margin=10)
>>> [(sheet.number, window.piece, window.placed.apply((0, 0)))
...     for sheet in placed.sheets for window in sheet.windows]
[(1, 'tray', (190.25, 10.25))]
"""
