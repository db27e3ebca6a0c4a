//! Shell completions and man pages, made from the arguments.

use clap::CommandFactory;
use clap_complete::Shell;

use crate::arguments::Arguments;
use crate::trouble::{Trouble, print};

/// Prints what a shell needs to complete the commands.
pub(crate) fn completions(shell: Shell) -> Result<(), Trouble> {
    let mut page = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), "quartern", &mut page);
    print(&String::from_utf8_lossy(&page))
}

/// Prints a man page.
pub(crate) fn man(part: Option<&str>) -> Result<(), Trouble> {
    let mut command = Arguments::command();
    command.build();
    let wanted = match part {
        None => command,
        Some(part) => command.find_subcommand(part).cloned().ok_or(Trouble::OurFault)?,
    };
    let mut page = Vec::new();
    clap_mangen::Man::new(wanted).render(&mut page).map_err(|_| Trouble::OurFault)?;
    print(&String::from_utf8_lossy(&page))
}
