"""Is it well formed? The reader, the models, and what is generated from them."""

from handouts_build.schema.calls import CallKeys, CallSizeKeys, EntryKeys
from handouts_build.schema.cut_keys import ACCEPTED, BlankKeys, CutItem, DeclaredKeys, HoldKeys, MarkItem, Written
from handouts_build.schema.describe import (
    call_schema,
    demonstration_schema,
    entry_schema,
    project_schema,
    reference_pages,
    runs_schema,
    shop_schema,
)
from handouts_build.schema.describe_cuts import cut_pages
from handouts_build.schema.describe_tasks import task_pages
from handouts_build.schema.evening import DemonstrationKeys, FrozenPlanKeys, FrozenStepKeys, RunKeys, RunsKeys
from handouts_build.schema.fields import PLACEHOLDER, Formula
from handouts_build.schema.filled_in import FilledIn, filled_in
from handouts_build.schema.house_form import house_form
from handouts_build.schema.laminate_keys import LaminateKeys
from handouts_build.schema.load import load_file, load_project, one_unit_of, written_in
from handouts_build.schema.models import (
    DimensionKeys,
    ElementKeys,
    ErratumKeys,
    JointKeys,
    LetInKeys,
    MinutesKeys,
    PartKeys,
    PictureKeys,
    ProfileKeys,
    ProjectKeys,
    ReadySizeKeys,
    ShowKeys,
    SizeKeys,
    StepKeys,
    WorkingKeys,
)
from handouts_build.schema.moments import elapsed_seconds, elapsed_text
from handouts_build.schema.reader import LARGEST, Document, Key, parse_document, read_document, written
from handouts_build.schema.shop import ShopKeys, StickKeys
from handouts_build.schema.stack_keys import CourseKeys, StackKeys
from handouts_build.schema.unsaid_kit import stands_for

__all__ = [
    "ACCEPTED",
    "LARGEST",
    "PLACEHOLDER",
    "BlankKeys",
    "CallKeys",
    "CallSizeKeys",
    "CourseKeys",
    "CutItem",
    "DeclaredKeys",
    "DemonstrationKeys",
    "DimensionKeys",
    "Document",
    "ElementKeys",
    "EntryKeys",
    "ErratumKeys",
    "FilledIn",
    "Formula",
    "FrozenPlanKeys",
    "FrozenStepKeys",
    "HoldKeys",
    "JointKeys",
    "Key",
    "LaminateKeys",
    "LetInKeys",
    "MarkItem",
    "MinutesKeys",
    "PartKeys",
    "PictureKeys",
    "ProfileKeys",
    "ProjectKeys",
    "ReadySizeKeys",
    "RunKeys",
    "RunsKeys",
    "ShopKeys",
    "ShowKeys",
    "SizeKeys",
    "StackKeys",
    "StepKeys",
    "StickKeys",
    "WorkingKeys",
    "Written",
    "call_schema",
    "cut_pages",
    "demonstration_schema",
    "elapsed_seconds",
    "elapsed_text",
    "entry_schema",
    "filled_in",
    "house_form",
    "load_file",
    "load_project",
    "one_unit_of",
    "parse_document",
    "project_schema",
    "read_document",
    "reference_pages",
    "runs_schema",
    "shop_schema",
    "stands_for",
    "task_pages",
    "written",
    "written_in",
]
