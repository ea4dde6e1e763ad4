import { describe, expect, test } from "vitest";
import { checkDigit, disagreements, readVin, sentVehicle, typed, withVin, withVinYear } from "../src/model/vin";
import { carHeard } from "../src/views/ask-heard";
import { enginesOf } from "../src/views/ask-vehicle";
import { NO_VEHICLE } from "../src/wire";

// The worked example of 49 CFR 565.15 (Table VI): weighted sum 411, remainder 4; the rest are it with signs changed.
const OF_2005 = "1G4AH59H45G118341";
const OF_2004 = "1G4AH59H64G118341";
const NOW = new Date("2026-11-25T12:00:00Z");
const read = (text: string) => readVin(text, NOW);

describe("a VIN on the phone", () => {
  test("is read as the regulation's example", () => {
    expect(checkDigit(OF_2005)).toBe("4");
    expect(read(" 1g4ah59h4-5g118341 ")).toEqual({ vin: OF_2005, problem: "", year: 2005, otherYear: null, sure: true });
  });

  test.each([
    [OF_2005.slice(0, 16), /16 of 17/],
    [OF_2005.replace("G4", "O4"), /O at place 2/],
    [OF_2005.replace("341", "314"), /check digit at place 9/],
  ])("%s is not kept, and says why", (vin, why) => {
    expect(read(vin).problem).toMatch(why);
    expect(withVin(NO_VEHICLE, read(vin)).vin).toBeNull();
  });

  test("of a late cycle names the other year of a heavy truck", () => {
    const late = "1G4AH5AH0BG118341";
    const whole = `${late.slice(0, 8)}${checkDigit(late)}${late.slice(9)}`;
    expect(read(whole)).toMatchObject({ year: 2011, otherYear: 1981 });
  });

  test("outside North America is a guess and fills nothing", () => {
    const foreign = `W${OF_2005.slice(1)}`;
    expect(read(foreign)).toMatchObject({ problem: "", year: 2005, sure: false });
    expect(withVin(NO_VEHICLE, read(foreign)).year).toBeNull();
  });
});

describe("what a VIN does to the car", () => {
  const filled = withVin(NO_VEHICLE, read(OF_2005));

  test("an empty year is filled and marked, and goes with the VIN", () => {
    expect(filled).toMatchObject({ vin: OF_2005, year: 2005, from_vin: ["year"] });
    expect(withVin(filled, read(OF_2004)).year).toBe(2004);
    expect(withVin(filled, read(""))).toEqual(NO_VEHICLE);
  });

  test("a typed year stays, and the VIN says another until its year is taken", () => {
    const said = withVin({ ...NO_VEHICLE, year: 2004 }, read(OF_2005));
    expect(said.year).toBe(2004);
    expect(disagreements(said, NOW)).toEqual(["VIN says 2005, typed 2004"]);
    expect(disagreements(withVinYear(said, 2005), NOW)).toEqual([]);
  });

  test("a year typed over the VIN's is a typed one", () =>
    expect(typed(filled, { year: 2003 })).toMatchObject({ year: 2003, from_vin: [] }));

  test("the maker is the service's to say, of the make that still stands", () => {
    const vin_says = { year: 2005, maker: "Long Vale", year_note: "", against: ["VIN says maker Long Vale, typed Tarrow"] };
    const car = { ...filled, make: "Tarrow", vin_says };
    expect(disagreements(car, NOW)).toEqual(vin_says.against);
    expect(disagreements({ ...car, make: "Long Vale" }, NOW)).toEqual([]);
    expect(sentVehicle(car)).not.toHaveProperty("vin_says");
  });

  test("a car of an earlier version of this phone has no marks yet", () => {
    const { from_vin: _, ...old } = NO_VEHICLE;
    expect(typed(old as typeof NO_VEHICLE, { make: "Tarrow" }).from_vin).toEqual([]);
  });
});

describe("the car heard in the words", () => {
  const vehicle = { ...NO_VEHICLE, year: 2009, make: "Tarrow", model: "Linnet" };
  const car = { vehicle, origins: { year: "words", make: "words", model: "words" } as const, engines: [] };
  test("is offered where nothing is typed", () => expect(carHeard(NO_VEHICLE, car)).toEqual({ year: 2009, make: "Tarrow", model: "Linnet" }));
  test("leaves what is typed alone", () => expect(carHeard({ ...NO_VEHICLE, year: 2010 }, car)).toEqual({ make: "Tarrow", model: "Linnet" }));
  test("of typed fields alone is nothing new", () => expect(carHeard(NO_VEHICLE, { ...car, origins: { make: "typed" } })).toBeNull());
});

test("engines are offered from cars of the same model and years", () => {
  const car = (year: number, engine: string) => ({ ...NO_VEHICLE, year, make: "Tarrow", model: "Linnet", engine });
  const recent = [car(2009, "1.6 petrol"), car(2010, "2.0 diesel"), car(2019, "1.2 turbo"), car(2011, "1.6 petrol")];
  expect(enginesOf(recent, { ...NO_VEHICLE, year: 2010, make: "tarrow", model: "linnet" })).toEqual(["1.6 petrol", "2.0 diesel"]);
  expect(enginesOf(recent, NO_VEHICLE)).toEqual([]);
});
