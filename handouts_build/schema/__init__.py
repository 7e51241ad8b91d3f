"""Is it well formed? The reader, the models, and what is generated from them."""

from handouts_build.schema.describe import project_schema, reference_page, shop_schema
from handouts_build.schema.fields import PLACEHOLDER, Formula
from handouts_build.schema.load import load_project, load_shop
from handouts_build.schema.models import Element, Profile, Project, Shop
from handouts_build.schema.reader import LARGEST, Document, Key, written

__all__ = [
    "LARGEST",
    "PLACEHOLDER",
    "Document",
    "Element",
    "Formula",
    "Key",
    "Profile",
    "Project",
    "Shop",
    "load_project",
    "load_shop",
    "project_schema",
    "reference_page",
    "shop_schema",
    "written",
]
