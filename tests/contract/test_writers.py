"""What every format owes, run on whatever the writers folder holds."""

import pytest

from elevgen import pipeline, writers
from elevgen.core.discover import load_module, module_names
from elevgen.drawing.compose import compose
from elevgen.spec.load import parse_text
from elevgen.spec.starter import starter_text
from elevgen.takeoff.measure import measure
from elevgen.writers._package import Package

FORMATS = module_names(writers)


@pytest.fixture(scope="module")
def package() -> Package:
    spec = parse_text(starter_text("l", "9.35 m", "5.6 m", "2.4 m", "Kiln & <store>"), "starter", pipeline.vocabulary())
    design = pipeline.design(spec, "kiln")
    return Package(design, measure(design), compose(design))


def test_the_formats_the_design_names_are_there():
    assert pipeline.default_formats() == ("dxf", "json", "pdf", "svg", "xlsx")
    assert pipeline.format_names() == FORMATS == ("csv", "dxf", "json", "pdf", "svg", "xlsx")


@pytest.mark.parametrize("name", FORMATS)
class TestEveryFormat:
    def test_says_its_name(self, name, package):
        assert name == load_module(writers, name).FORMAT

    def test_gives_files_below_the_folder_with_something_in_them(self, name, package):
        files = load_module(writers, name).render(package)
        assert files
        for path, content in files.items():
            assert not path.startswith("/")
            assert ".." not in path.split("/")
            assert path.endswith(f".{name}")
            assert len(content) > 500

    def test_twice_the_same_bytes(self, name, package):
        writer = load_module(writers, name)
        assert writer.render(package) == writer.render(package)

    def test_carries_the_caution(self, name, package):
        if name in ("dxf", "svg"):
            content = b"".join(load_module(writers, name).render(package).values()).decode()
            assert "qualified engineer" in content
