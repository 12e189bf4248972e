"""The camera's fit on marks that are put there by another camera: what it then says of the paper's places."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest
from rendering import Scene, camera

from handkit.photo.camera import fitted
from handkit.photo.mat import mat_of


def shown(scene: Scene, points: np.ndarray) -> np.ndarray:
    """Where that camera has places on the paper, in pixels from the middle of the upper left one."""
    rows, place, focal = camera(scene)
    seen = (np.column_stack([points, np.zeros(len(points))]) - place) @ rows.T
    flat = seen[:, :2] / seen[:, 2:]
    square = (flat**2).sum(1, keepdims=True)
    return flat * (1 + scene.k1 * square + scene.k2 * square**2) * focal + np.array(scene.pixels) / 2 - 0.5


def fit(seed: int, *, noise: float = 0.0, told: bool = True):
    chance = Random(seed)
    mat = mat_of(*chance.choice([(210, 297), (297, 420), (215.9, 279.4)]))
    share = chance.uniform(0.55, 0.66)
    scene = Scene(
        mat,
        (),
        pixels=(3000, 4000),
        focal=share,
        k1=chance.uniform(-0.08, 0.08),
        k2=chance.uniform(-0.02, 0.02),
        height=chance.uniform(1.2, 2.4) * mat.height,
        tilt=chance.uniform(0.5, 15),
        towards=chance.uniform(0, 360),
        turn=chance.uniform(0, 360),
        aim=(chance.uniform(-20, 20), 5.0),
    )
    drawn = np.array([mark.centre for mark in mat.marks])
    scale = chance.uniform(0.99, 1.01), chance.uniform(0.99, 1.01)
    seen = shown(scene, drawn * scale)
    seen = seen + noise * np.random.default_rng(seed).standard_normal(seen.shape)
    return scene, scale, fitted(drawn, seen, scene.pixels, scale, share if told else 0.0)


def off_on_paper(scene: Scene, fitted_camera) -> float:
    """The most that a place of the field is told beside where it is, in mm."""
    x, y = np.meshgrid(np.linspace(23, scene.mat.width - 23, 9), np.linspace(23, scene.mat.height - 23, 9))
    points = np.stack([x.ravel(), y.ravel()], 1)
    pixels = np.linalg.norm(fitted_camera.seen(points) - shown(scene, points), axis=1)
    step = np.linalg.norm(shown(scene, points + np.array([1.0, 0.0])) - shown(scene, points), axis=1)
    return float((pixels / step).max())


@pytest.mark.parametrize("seed", range(12))
def test_places_on_the_paper_are_true_to_a_hundredth(seed: int) -> None:
    scene, _, found = fit(seed)
    assert off_on_paper(scene, found) < 0.01
    assert np.sqrt((found.off**2).mean()) < 0.005


@pytest.mark.parametrize("seed", range(12))
def test_a_lens_that_is_not_told_costs_no_more_than_the_rule(seed: int) -> None:
    """A lens taken for another makes the sheet another shape, by no more than a misread rule does: 0.1 %."""
    scene, _, found = fit(seed, told=False)
    assert off_on_paper(scene, found) < 0.001 * scene.mat.height
    assert np.sqrt((found.off**2).mean()) < 0.005


@pytest.mark.parametrize("seed", range(6))
def test_the_lens_stands_where_it_stood(seed: int) -> None:
    """Its height within what is stated (two sigmas), and within 5 %; its foot so, too."""
    scene, _, found = fit(seed, noise=0.1)
    _, place, _ = camera(scene)
    height, foot = found.lens_error
    assert abs(found.lens[2] / place[2] - 1) < min(2 * height, 0.05)
    assert np.hypot(*(found.lens[:2] - place[:2])) < 3 * foot
    assert found.tilt == pytest.approx(scene.tilt, abs=1.0)


def test_a_printer_that_leans_and_a_rule_misread_leave_no_residual() -> None:
    """They are the print's, and not taken for paper that isn't flat."""
    scene = Scene(mat_of(210, 297), (), pixels=(3000, 4000), height=420, tilt=6)
    drawn = np.array([mark.centre for mark in scene.mat.marks])
    printed = drawn * (1.001, 0.999) + np.outer(drawn[:, 1], (0.0008, 0.0))
    found = fitted(drawn, shown(scene, printed), scene.pixels, (1.0, 1.0), 0.62)
    assert np.sqrt((found.off**2).mean()) < 0.06


def test_paper_that_is_not_flat_leaves_one() -> None:
    scene = Scene(mat_of(210, 297), (), pixels=(3000, 4000), height=420, tilt=6)
    drawn = np.array([mark.centre for mark in scene.mat.marks])
    _, place, _ = camera(scene)
    rise = 4.0 * np.cos((drawn[:, 0] / 210 - 0.5) * np.pi) * (drawn[:, 1] > 200)
    beside = drawn + (drawn - place[:2]) * (rise / place[2])[:, None]
    found = fitted(drawn, shown(scene, beside), scene.pixels, (1.0, 1.0), 0.62)
    assert np.sqrt((found.off**2).mean()) > 0.12
