#pragma once

#include "nightbank/scenario/field.h"
#include "nightbank/scenario/scenario.h"

/// The field lists of all parts of a scenario.
namespace nightbank::scenario {

template <>
const Spec& specOf<Scenario>();
template <>
const Spec& specOf<HorizonPoint>();
template <>
const Spec& specOf<Site>();
template <>
const Spec& specOf<Period>();
template <>
const Spec& specOf<Weather>();
template <>
const Spec& specOf<DesignDay>();
template <>
const Spec& specOf<ConstantWeather>();
template <>
const Spec& specOf<Occupants>();
template <>
const Spec& specOf<Cabin>();
template <>
const Spec& specOf<Gain>();
template <>
const Spec& specOf<Ventilation>();
template <>
const Spec& specOf<ThermostatSpan>();
template <>
const Spec& specOf<CoolingUnit>();
template <>
const Spec& specOf<AirConditioner>();
template <>
const Spec& specOf<Running>();
template <>
const Spec& specOf<Fan>();
template <>
const Spec& specOf<Starting>();
template <>
const Spec& specOf<SoftStarterRamp>();
template <>
const Spec& specOf<DutySpan>();
template <>
const Spec& specOf<Load>();
template <>
const Spec& specOf<Bank>();
template <>
const Spec& specOf<Rate>();
template <>
const Spec& specOf<TwoWell>();
template <>
const Spec& specOf<Heater>();
template <>
const Spec& specOf<BatteryUnit>();
template <>
const Spec& specOf<Batteries>();
template <>
const Spec& specOf<Monitor>();
template <>
const Spec& specOf<Surge>();
template <>
const Spec& specOf<Cable>();
template <>
const Spec& specOf<Search>();
template <>
const Spec& specOf<Losses>();
template <>
const Spec& specOf<Inverter>();
template <>
const Spec& specOf<Charger>();
template <>
const Spec& specOf<Shade>();
template <>
const Spec& specOf<Array>();
template <>
const Spec& specOf<Derating>();
template <>
const Spec& specOf<TankTime>();
template <>
const Spec& specOf<BurnRate>();
template <>
const Spec& specOf<Fuel>();
template <>
const Spec& specOf<QuietRule>();
template <>
const Spec& specOf<GeneratorRule>();
template <>
const Spec& specOf<Generator>();
template <>
const Spec& specOf<Alternator>();
template <>
const Spec& specOf<Shore>();
template <>
const Spec& specOf<Variant>();
template <>
const Spec& specOf<LifePoint>();
template <>
const Spec& specOf<BankPrice>();
template <>
const Spec& specOf<Purchase>();
template <>
const Spec& specOf<Sizing>();
template <>
const Spec& specOf<SizingChoice>();
template <>
const Spec& specOf<SizingOption>();
template <>
const Spec& specOf<SizingUnits>();
template <>
const Spec& specOf<Prices>();
template <>
const Spec& specOf<RiskInput>();
template <>
const Spec& specOf<SetpointWindow>();
template <>
const Spec& specOf<Plan>();

}  // namespace nightbank::scenario
