"""The commands of the exercise with a room: `python -m scoring workshop …`."""

import click

from scoring.command_faults import faults_to_stderr


@click.group()
def workshop():
    """Run the exercise “the same machines, other buyers” with a room."""


@workshop.command()
@click.argument("pack")
@faults_to_stderr
def check(pack):
    """Check a scenario pack: do leaders differ, firmly, with no limit on a tie?"""
    from scoring.workshop.pack_check import checked
    from scoring.workshop.pack_files import load_pack

    loaded = load_pack(pack)
    for each in checked(loaded):
        letter, share = loaded.letters[each.leader], each.first[each.leader]
        click.echo(f"{each.title}: {letter} leads, in {100 * share:.0f} % of draws")
    click.echo(f"{pack}: no fault")


@workshop.command()
@click.argument("folder")
@click.option("--out", required=True, help="The .zip file to write.")
@faults_to_stderr
def pack(folder, out):
    """Pack a folder of briefs, sheets and pack.yaml into one checked .zip."""
    from scoring.inputs.written import check_writable, write_bytes
    from scoring.workshop.pack_check import checked
    from scoring.workshop.pack_files import load_pack, packed

    check_writable(out, [folder])
    loaded = load_pack(folder)
    checked(loaded)
    write_bytes(out, packed(loaded))
    click.echo(out)
