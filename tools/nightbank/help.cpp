#include "help.h"

namespace nightbank::tool {

std::string_view mainHelp() {
  return R"(Does the air conditioner run through the night off grid, and what limits it?

usage: nightbank COMMAND [OPTIONS] [FILE]

commands
  run [FILE]    simulates a scenario and answers; without FILE the built-in one
  start FILE    will the compressor start, on which source, and what would help
  check FILE    shows every value of a scenario and what follows from it
  keys [PATH]   explains the keys of a scenario
  new [FILE]    writes a scenario to start from

options
  -h, --help    this text; after a command, that command's
  --version     the version

To begin with
  nightbank run                        look at an answer
  nightbank new --ask my_night.yaml    a few questions, then your own scenario
  nightbank check my_night.yaml        which values are yours, which are typical
  nightbank run my_night.yaml          the answer

The exit code is 0 when there is an answer, whatever it says; 1 when it is worse
than --require asks for; 2 when the command line or a scenario is wrong; 70 when
the program fails or its output cannot be written.
)";
}

std::string_view runHelp() {
  return R"(Simulates a scenario and answers: does the bank last, what limits it, what would
have to be known better.

usage: nightbank run [OPTIONS] [FILE]

FILE is a scenario (YAML, at most 1 MB); '-' reads standard input; without FILE
the built-in scenario is answered.

options
  --set PATH=VALUE     change one value for this run, as it would stand in the
                       file; may be repeated; 'none' empties a part
  --units metric|us    units of the text (degC, L, m or degF, gal, ft)
  --quiet              the verdict alone
  --json               the answer for programs; always metric
  --csv FILE           also a table, one row per step; '-' writes it to standard
                       output in place of the text; always metric
  --require LEVEL      exit code 1 unless the answer is 'holds'; with 'marginal'
                       that is enough
  -h, --help           this text

examples
  nightbank run my_night.yaml
  nightbank run my_night.yaml --set "bank.capacity=300 Ah" --quiet
  nightbank run my_night.yaml --set "air_conditioners.roof.duty=75 %"
  nightbank run my_night.yaml --set generator=none --set charger=none
  nightbank run my_night.yaml --csv night.csv --json > night.json
  nightbank run --require holds --quiet my_night.yaml || echo think again
)";
}

std::string_view startHelp() {
  return R"(Will the compressor start? Tests every source that may carry it, stock and
with a soft starter, cold, hot and on top of another unit: amperes for the time
of the start, the bank's side of an inverter, the voltage, and what runs then.
What would help is tried before it is named.

usage: nightbank start [OPTIONS] FILE

FILE is a scenario; '-' reads standard input.

options
  --set PATH=VALUE     change one value first; may be repeated
  --quiet              the verdict alone
  --json               the answer for programs
  --csv FILE           also current and voltage through each start; '-' writes
                       them to standard output in place of the text
  --require LEVEL      exit code 1 unless it 'holds' (should start); with
                       'marginal' doubtful is enough
  -h, --help           this text

examples
  nightbank start my_night.yaml
  nightbank start my_night.yaml --set generator.throttle=fixed_speed
  nightbank start my_night.yaml \
    --set "air_conditioners.roof.starting.locked_rotor=63 A"
  nightbank start my_night.yaml --require marginal --quiet
)";
}

std::string_view checkHelp() {
  return R"(Shows every value of a scenario with its grade (measured, nameplate, typical),
the range of each typical one, and what follows from them: usable energy, what
the generator is worth in that heat and height, losses, fuel, cable, duty.

usage: nightbank check [OPTIONS] FILE

FILE is a scenario; '-' reads standard input.

options
  --set PATH=VALUE     change one value first; may be repeated
  --units metric|us    units of what was not typed
  -h, --help           this text

examples
  nightbank check my_night.yaml
  nightbank check my_night.yaml --set "inverter.idle=18 W measured"

The exit code is 0 when the scenario can be run, 2 when it has errors.
)";
}

std::string_view keysHelpText() {
  return R"(Explains the keys of a scenario: what each means, its unit, its range, what
stands in when it is left out, and where a person finds the value.

usage: nightbank keys [OPTIONS] [PATH]

PATH is a key or a part of a scenario, joined by dots; without it all keys are
listed.

options
  --schema             the JSON Schema of a scenario, for editors
  -h, --help           this text

examples
  nightbank keys
  nightbank keys bank
  nightbank keys generator.rule.start_below
  nightbank keys --schema > nightbank.schema.json
)";
}

std::string_view newHelp() {
  return R"(Writes a commented scenario that runs as it is and waits for your own values.

usage: nightbank new [OPTIONS] [FILE]

Without FILE it goes to standard output. A file that is there is never
overwritten.

options
  --ask                asks at most eight plain questions first; Enter for what
                       is not known
  -h, --help           this text

examples
  nightbank new my_night.yaml
  nightbank new --ask my_night.yaml
  nightbank new | nightbank run -
)";
}

}  // namespace nightbank::tool
