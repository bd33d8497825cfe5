#pragma once

#include <string>
#include <vector>

#include "nightbank/scenario/scenario.h"

/// Typical values: what stands in for a value that was left out, and how far off it may be.
namespace nightbank::scenario {

/// A copy with typical values wherever none is given; given values are never touched. Parts that
/// every scenario has (an A/C's fan, a generator's derating and fuel, the weather) are created
/// where they are absent; parts that one may lack (generator, solar, charger ...) stay absent.
/// A value filled in has `given == false` and the grade `typical`; where it follows from given ones
/// alone (the bank's capacity from its batteries), it has the weakest grade of those.
/// Still NaN afterwards: values that have no typical one (latitude, `running.power` beside a
/// current). `scenario` must be one that readScenario() or apply() returned.
Scenario resolve(const Scenario& scenario);

/// One value that resolve() guesses, with the ends of its range as texts for apply(). The texts
/// carry the grade word `typical`, so that an edit does not make a guess look like a reading.
struct TypicalValue {
  std::string path;   ///< "bank.resistance", "air_conditioners.roof.fan.mode"
  std::string value;  ///< "4.1 mohm typical", "auto"
  std::string
      low;  ///< the low end; of words the other word before it; "" where there is no such end
  std::string
      high;  ///< the high end; of words the other word after it; "" where there is no such end
  Grade grade = Grade::typical;
};

/// Every guess of resolve(given) that has a range, in the order of the field lists.
std::vector<TypicalValue> typicalValues(const Scenario& given);

}  // namespace nightbank::scenario
