"""Is it well formed? The reader, the models, and what is generated from them."""

from handouts_build.schema.cut_keys import ACCEPTED, CutItem, DeclaredKeys, HoldKeys, MarkItem, Written
from handouts_build.schema.describe import (
    demonstration_schema,
    project_schema,
    reference_page,
    runs_schema,
    shop_schema,
)
from handouts_build.schema.describe_cuts import cut_pages
from handouts_build.schema.evening import Demonstration, FrozenPlan, FrozenStep, Run, Runs
from handouts_build.schema.fields import PLACEHOLDER, Formula
from handouts_build.schema.load import load_demonstration, load_frozen_plan, load_project, load_runs, load_shop
from handouts_build.schema.models import (
    BlankKeys,
    DimensionKeys,
    ElementKeys,
    JointKeys,
    PartKeys,
    ProfileKeys,
    Project,
    ReadySizeKeys,
    SizeKeys,
    StepKeys,
)
from handouts_build.schema.moments import elapsed_text
from handouts_build.schema.reader import LARGEST, Document, Key, written
from handouts_build.schema.shop import Shop, StickOnHand

__all__ = [
    "ACCEPTED",
    "LARGEST",
    "PLACEHOLDER",
    "BlankKeys",
    "CutItem",
    "DeclaredKeys",
    "Demonstration",
    "DimensionKeys",
    "Document",
    "ElementKeys",
    "Formula",
    "FrozenPlan",
    "FrozenStep",
    "HoldKeys",
    "JointKeys",
    "Key",
    "MarkItem",
    "PartKeys",
    "ProfileKeys",
    "Project",
    "ReadySizeKeys",
    "Run",
    "Runs",
    "Shop",
    "SizeKeys",
    "StepKeys",
    "StickOnHand",
    "Written",
    "cut_pages",
    "demonstration_schema",
    "elapsed_text",
    "load_demonstration",
    "load_frozen_plan",
    "load_project",
    "load_runs",
    "load_shop",
    "project_schema",
    "reference_page",
    "runs_schema",
    "shop_schema",
    "written",
]
