#pragma once

#include <optional>
#include <string>
#include <vector>

#include "nightbank/scenario/bank.h"
#include "nightbank/scenario/cabin.h"
#include "nightbank/scenario/consumers.h"
#include "nightbank/scenario/graded.h"
#include "nightbank/scenario/machines.h"
#include "nightbank/scenario/plan.h"
#include "nightbank/scenario/prices.h"
#include "nightbank/scenario/risk_input.h"
#include "nightbank/scenario/site.h"
#include "nightbank/scenario/sizing.h"

/// What the user wrote, typed, in the units of `Dim`; no places, no YAML. Each struct has one field
/// list (scenario/fields.h) from which reading, help, schema, echo and edits come. A member's
/// unit is in its name; typical values are filled by resolve() on a copy, only where not given.
namespace nightbank::scenario {

struct Variant {
  std::string name;
  std::vector<NamedEdit> set;
};

struct Scenario {
  std::string title;
  Graded mains_V;
  std::optional<Site> site;
  Period period;
  std::optional<Weather> weather;
  std::optional<Occupants> occupants;
  std::optional<Cabin> cabin;
  std::vector<AirConditioner> airConditioners;
  std::vector<Load> loads;
  Bank bank;
  std::optional<Inverter> inverter;
  std::optional<Charger> charger;
  std::vector<Array> solar;
  std::optional<Generator> generator;
  std::optional<Alternator> alternator;
  std::optional<Shore> shore;
  std::vector<Variant> variants;
  std::optional<Sizing> sizing;
  std::optional<Prices> prices;
  std::vector<RiskInput> risk;
  std::optional<Plan> plan;
};

}  // namespace nightbank::scenario
