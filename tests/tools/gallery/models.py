"""Models as an unrelated viewer opens them: framed by their own bounds, its own light."""

from __future__ import annotations

from pathlib import Path

import vtk

SIZE = (1000, 625)  # pixels
GROUND = (0.95, 0.96, 0.945)


def picture_of_glb(model: Path, path: Path) -> None:
    """A glTF file from a quarter on its mouth; y is up in it."""
    window, scene = _window()
    reader = vtk.vtkGLTFImporter()
    reader.SetFileName(str(model))
    reader.SetRenderWindow(window)
    reader.Update()
    _look(window, scene, (0.0, 1.0, 0.0), path)


def picture_of_stl(model: Path, path: Path) -> None:
    """An STL file from a quarter; z is up in it."""
    window, scene = _window()
    reader, mapper, actor = vtk.vtkSTLReader(), vtk.vtkPolyDataMapper(), vtk.vtkActor()
    reader.SetFileName(str(model))
    mapper.SetInputConnection(reader.GetOutputPort())
    actor.SetMapper(mapper)
    scene.AddActor(actor)
    _look(window, scene, (0.0, 0.0, 1.0), path)


def _window() -> tuple[vtk.vtkRenderWindow, vtk.vtkRenderer]:
    window, scene = vtk.vtkRenderWindow(), vtk.vtkRenderer()
    window.SetOffScreenRendering(1)
    window.SetSize(*SIZE)
    window.AddRenderer(scene)
    scene.SetBackground(*GROUND)
    return window, scene


def _look(
    window: vtk.vtkRenderWindow, scene: vtk.vtkRenderer, up: tuple[float, float, float], path: Path
) -> None:
    camera = scene.GetActiveCamera()
    camera.SetFocalPoint(0, 0, 0)
    camera.SetPosition(-1, 0.35, 0.8) if up[1] else camera.SetPosition(-1, -0.8, 0.35)
    camera.SetViewUp(*up)
    scene.ResetCamera()
    camera.Zoom(1.3)
    window.Render()
    shot, file = vtk.vtkWindowToImageFilter(), vtk.vtkPNGWriter()
    shot.SetInput(window)
    file.SetFileName(str(path))
    file.SetInputConnection(shot.GetOutputPort())
    file.Write()
