/** The few entries that rules in the code name. All others are reached through the knowledge alone. */
export const NEEDED_FINDINGS = {
  power: 'unit.power',
  water: 'unit.water',
  refrigerant: 'unit.refrigerant',
  thawed: 'unit.thawed-recently',
  warranty: 'unit.warranty',
  dispenser: 'unit.ice-dispenser',
  layout: 'unit.layout',
  age: 'unit.age',
  defrostControl: 'unit.defrost-control',
  liveWork: 'person.live-work',
  canMeasure: 'person.can-measure',
  repaired: 'repair.already-done',
  result: 'repair.result',
  freezer: 'cooling.freezer',
  freshFood: 'cooling.fresh-food',
  onset: 'frost.onset',
  frostPlace: 'frost.location',
  frostKind: 'frost.kind',
  pattern: 'frost.evaporator-pattern',
  room: 'usage.room',
} as const;

export const NEEDED_FAULTS = ['something-else'] as const;
