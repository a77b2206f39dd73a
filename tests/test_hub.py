"""The class server's settings as files: loopback, culling, and no access control of our own."""

import runpy
import subprocess
import sys

import pytest
import yaml
from lowside.__main__ import NOTEBOOKS, SETTINGS
from traitlets.config import Config

HUB = SETTINGS / "jupyterhub_config.py"


@pytest.fixture(scope="module")
def hub():
    config = Config()
    runpy.run_path(str(HUB), {"get_config": lambda: config})
    return config


def test_hub_and_learners_servers_answer_on_loopback_only(hub):
    assert hub.JupyterHub.bind_url.startswith("http://127.0.0.1:")
    assert hub.JupyterHub.hub_ip == "127.0.0.1"
    assert hub.ConfigurableHTTPProxy.api_url.startswith("http://127.0.0.1:")
    assert hub.Spawner.ip == "127.0.0.1"


def test_idle_kernels_and_servers_are_culled_and_a_class_of_thirty_fits(hub):
    flags = dict(flag.removeprefix("--").split("=") for flag in hub.Spawner.args)
    timeout = int(flags["MappingKernelManager.cull_idle_timeout"])
    assert 0 < int(flags["MappingKernelManager.cull_interval"]) < timeout
    assert flags["MappingKernelManager.cull_connected"] == "True"
    service = hub.JupyterHub.services[0]
    assert "jupyterhub_idle_culler" in service["command"]
    assert service["name"] in hub.JupyterHub.load_roles[0]["services"]
    assert hub.JupyterHub.active_server_limit >= 30


def test_who_may_enter_is_left_to_the_hub(hub):
    assert "Authenticator" not in hub
    assert "authenticator_class" not in hub.JupyterHub


def test_the_hub_itself_accepts_every_setting(hub):
    app = pytest.importorskip("jupyterhub.app", reason="jupyterhub is not installed")
    from jupyterhub.spawner import LocalProcessSpawner

    made = app.JupyterHub(config=hub)
    assert made.bind_url.startswith("http://127.0.0.1:")
    for name in hub.JupyterHub:
        assert made.has_trait(name), name
    for name in hub.Spawner:
        assert LocalProcessSpawner.class_traits().get(name), name


@pytest.mark.skipif(sys.platform == "win32", reason="a hub needs Linux or macOS")
def test_a_learners_first_start_copies_the_lessons_and_later_ones_keep_what_is_there(hub, tmp_path):
    """Run the spawner's command, with the single-user server replaced by `echo`."""
    stub = tmp_path / "bin" / "jupyterhub-singleuser"
    stub.parent.mkdir()
    stub.write_text('#!/bin/sh\necho "$@"\n')
    stub.chmod(0o755)
    environment = {
        **hub.Spawner.environment,
        "HOME": str(tmp_path),
        "PATH": f"{stub.parent}:/usr/bin:/bin",
    }

    def start():
        command = [*hub.Spawner.cmd, "--port=1", "two words"]
        return subprocess.run(command, env=environment, capture_output=True, text=True, check=True)

    assert start().stdout == "--port=1 two words\n"
    copied = tmp_path / "lowside"
    assert {p.name for p in NOTEBOOKS.glob("*.ipynb")} <= {p.name for p in copied.iterdir()}
    mine = copied / "00-start-here.ipynb"
    mine.write_text("mine")
    start()
    assert mine.read_text() == "mine"


def test_values_for_kubernetes_cull_and_let_nobody_in_until_the_college_says_who():
    values = yaml.safe_load((SETTINGS / "hub-values.yaml").read_text(encoding="utf-8"))
    assert values["cull"]["enabled"] is True
    assert values["hub"]["config"]["JupyterHub"]["authenticator_class"] == "null"
    assert values["proxy"]["service"]["type"] == "ClusterIP"


def test_class_pages_answer_on_loopback_and_cull():
    pytest.importorskip("voila", reason="voila is not installed")
    config = Config()
    runpy.run_path(str(SETTINGS / "voila.py"), {"get_config": lambda: config})
    assert config.Voila.ip == "127.0.0.1"
    assert config.MappingKernelManager.cull_idle_timeout > 0
    assert config.VoilaConfiguration.strip_sources is True
