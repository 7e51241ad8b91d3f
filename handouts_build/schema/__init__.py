"""Is it well formed? The reader, the models, and what is generated from them."""

from handouts_build.schema.cut_keys import ACCEPTED, BlankKeys, CutItem, DeclaredKeys, HoldKeys, MarkItem, Written
from handouts_build.schema.describe import (
    demonstration_schema,
    project_schema,
    reference_pages,
    runs_schema,
    shop_schema,
)
from handouts_build.schema.describe_cuts import cut_pages
from handouts_build.schema.describe_tasks import task_pages
from handouts_build.schema.evening import DemonstrationKeys, FrozenPlanKeys, FrozenStepKeys, RunKeys, RunsKeys
from handouts_build.schema.fields import PLACEHOLDER, Formula
from handouts_build.schema.house_form import house_form
from handouts_build.schema.load import load_demonstration, load_frozen_plan, load_project, load_runs, load_shop
from handouts_build.schema.models import (
    DimensionKeys,
    ElementKeys,
    ErratumKeys,
    JointKeys,
    PartKeys,
    ProfileKeys,
    ProjectKeys,
    ReadySizeKeys,
    SizeKeys,
    StepKeys,
)
from handouts_build.schema.moments import elapsed_text
from handouts_build.schema.reader import LARGEST, Document, Key, parse_document, read_document, written
from handouts_build.schema.shop import ShopKeys, StickKeys
from handouts_build.schema.stack_keys import CourseKeys, StackKeys

__all__ = [
    "ACCEPTED",
    "LARGEST",
    "PLACEHOLDER",
    "BlankKeys",
    "CourseKeys",
    "CutItem",
    "DeclaredKeys",
    "DemonstrationKeys",
    "DimensionKeys",
    "Document",
    "ElementKeys",
    "ErratumKeys",
    "Formula",
    "FrozenPlanKeys",
    "FrozenStepKeys",
    "HoldKeys",
    "JointKeys",
    "Key",
    "MarkItem",
    "PartKeys",
    "ProfileKeys",
    "ProjectKeys",
    "ReadySizeKeys",
    "RunKeys",
    "RunsKeys",
    "ShopKeys",
    "SizeKeys",
    "StackKeys",
    "StepKeys",
    "StickKeys",
    "Written",
    "cut_pages",
    "demonstration_schema",
    "elapsed_text",
    "house_form",
    "load_demonstration",
    "load_frozen_plan",
    "load_project",
    "load_runs",
    "load_shop",
    "parse_document",
    "project_schema",
    "read_document",
    "reference_pages",
    "runs_schema",
    "shop_schema",
    "task_pages",
    "written",
]
