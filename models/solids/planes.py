"""The plane of a kernel face, normal outward."""

from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.GeomAbs import GeomAbs_SurfaceType
from OCP.TopAbs import TopAbs_Orientation
from OCP.TopoDS import TopoDS_Face

from ground.vectors import Plane, dot


def plane_of(face: TopoDS_Face) -> Plane | None:
    """The plane that a face lies in, looking out of the wood; None where it is not flat."""
    surface = BRepAdaptor_Surface(face, False)
    if surface.GetType() != GeomAbs_SurfaceType.GeomAbs_Plane:
        return None
    plane = surface.Plane()
    axis, place = plane.Axis().Direction(), plane.Location()
    sign = -1.0 if face.Orientation() == TopAbs_Orientation.TopAbs_REVERSED else 1.0
    if not plane.Direct():
        sign = -sign
    normal = (sign * axis.X() + 0.0, sign * axis.Y() + 0.0, sign * axis.Z() + 0.0)
    return Plane(normal, dot(normal, (place.X(), place.Y(), place.Z())) + 0.0)
