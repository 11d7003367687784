#include "slantrule/cli/command_table.hpp"

#include <array>

namespace slantrule::cli {

std::span<const Command> command_table() {
  static constexpr std::array commands{
      Command{"plan", "setup sheet for each job",
              "slantrule plan examples/chilled-water.json\n"
              "slantrule plan --set pipe.size=\"NPS 6 sch 40\" \\\n"
              "  --set pipe.material=\"carbon steel\" --set fluid.name=water \\\n"
              "  --set fluid.temperature=\"7 degC\" --set sensors=demo-1mhz",
              setup_plan},
      Command{"compare", "every way to measure a pipe, best first",
              "slantrule compare examples/chilled-water.json\n"
              "slantrule compare examples/kit-and-places.json --format json",
              setup_compare},
      Command{"survey", "results for each pipe of a list",
              "slantrule survey examples/plant-list.csv --columns\n"
              "slantrule survey examples/plant-list.csv --map-file examples/plant-list.map \\\n"
              "  --defaults examples/plant-defaults.json --format csv",
              setup_survey},
      Command{"pack", "what to load on the truck for a list of pipes",
              "slantrule pack examples/plant-list.csv --map-file examples/plant-list.map \\\n"
              "  --defaults examples/plant-defaults.json\n"
              "slantrule pack examples/plant-list.csv --map-file examples/plant-list.map \\\n"
              "  --set sensors=demo-2mhz --format json",
              setup_pack},
      Command{"wrap", "paper strip at true scale to mark both sensors by",
              "slantrule wrap examples/chilled-water.json --output strip.html\n"
              "slantrule wrap examples/copper-tube.json --paper letter --units us",
              setup_wrap},
      Command{"lesson", "worked example for a class, or exercise and key",
              "slantrule lesson examples/lesson-easy.json\n"
              "slantrule lesson examples/lesson-lined.json --blanks --seed 7 \\\n"
              "  --format html --output exercise.html",
              setup_lesson},
      Command{"lookup", "what the catalogue, checks and job keys hold",
              "slantrule lookup pipes \"girth 721 mm\"\n"
              "slantrule lookup liquid water --temperature \"0 to 60 degC\"",
              setup_lookup},
      Command{"new", "a starter job file, and what to ask the site",
              "slantrule new\n"
              "slantrule new job.json",
              setup_new},
      Command{"schema", "JSON Schema of the job file, for editors",
              "slantrule schema\n"
              "slantrule schema --output job.schema.json",
              setup_schema},
  };
  return commands;
}

}  // namespace slantrule::cli
