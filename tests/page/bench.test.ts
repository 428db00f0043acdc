import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { Specimen } from "../../src/core/specimen/specimen.ts";
import {
  eventually,
  frameDelay,
  laptop,
  openBrowser,
  openPage,
  picture,
  tablet,
  withBrowser,
} from "./browser.ts";
import { type FakeBench, openFakeBench } from "./fake-bench.ts";

const specimens: Specimen[] = [
  { label: "A-1", ratedAmps: 20, poles: 1, volts: 120, demo: true, job: "Mill Lane 3 (invented)" },
  { label: "A-2", ratedAmps: 60, poles: 3, volts: 240, demo: true },
  { label: "B-7", ratedAmps: 30, poles: 2, volts: 240 },
];

withBrowser("bench page", () => {
  let browser: Browser;
  let bench: FakeBench;
  let page: Page;
  let leave: () => Promise<void>;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());
  beforeEach(async () => {
    bench = await openFakeBench();
    for (const specimen of specimens) bench.receive(specimen);
    ({ page, leave } = await openPage(browser, bench.url));
    await page.locator(".rows a").first().waitFor();
  });
  afterEach(async () => {
    await leave();
    await bench.close();
  });

  const choose = async (label: string) => {
    await page.locator(".rows a", { hasText: label }).click();
    await page.locator(".steps button").first().waitFor();
  };
  const confirm = () => page.getByLabel("I have read the cautions").check();
  const start = () => page.getByRole("button", { name: "Start test" });
  const stop = () => page.getByRole("button", { name: "Stop test" });
  const begin = async (label: string) => {
    await choose(label);
    await confirm();
    await start().click();
  };
  const posts = (path: string) => bench.requests.filter((one) => one.method === "POST" && one.path === path);
  const groundOf = (selector: string) =>
    page.locator(selector).evaluate((element) => getComputedStyle(element).backgroundColor);
  const liveRed = "rgb(179, 18, 29)";

  describe("in rest", () => {
    it.each([
      ["laptop", laptop],
      ["tablet", tablet],
    ])("shows everything that a test needs without scrolling the page, on a %s", async (name, size) => {
      await page.setViewportSize(size);
      await choose("A-2");
      await page.waitForTimeout(300);
      await picture(page, `bench-rest-${name}`);
      const scrolls = await page.evaluate(() => [
        document.documentElement.scrollHeight > innerHeight,
        document.documentElement.scrollWidth > innerWidth,
      ]);
      expect(scrolls).toEqual([false, false]);
      for (const selector of [
        ".steps button",
        ".loading-picture",
        ".start",
        ".stop-large",
        ".cautions",
        ".rig-state",
        ".uplot",
      ]) {
        const box = await page.locator(selector).first().boundingBox();
        expect(box, selector).not.toBeNull();
        expect((box?.y ?? -1) >= 0 && (box?.y ?? 0) + (box?.height ?? 0) <= size.height, selector).toBe(true);
        expect((box?.x ?? 0) + (box?.width ?? 0), selector).toBeLessThanOrEqual(size.width);
      }
      const cautions = await page.locator(".cautions li").allTextContents();
      expect(cautions).toHaveLength(7);
    });

    it("keeps the stop and the cautions in view on a low screen", async () => {
      await page.setViewportSize({ width: 1280, height: 650 });
      await choose("A-2");
      await page.waitForTimeout(300);
      await picture(page, "bench-rest-low");
      for (const selector of [".stop-large", ".cautions", ".steps button"]) {
        const box = await page.locator(selector).first().boundingBox();
        expect((box?.y ?? -1) >= 0 && (box?.y ?? 0) + (box?.height ?? 0) <= 650, selector).toBe(true);
      }
      await start().scrollIntoViewIfNeeded();
      const covered = await start().evaluate((button) => {
        const { left, top, width, height } = button.getBoundingClientRect();
        return !button.contains(document.elementFromPoint(left + width / 2, top + height / 2));
      });
      expect(covered).toBe(false);
    });

    it("has no control smaller than 44 pixels", async () => {
      await choose("A-2");
      const small = await page.evaluate(() => {
        const controls = document.querySelectorAll(
          "button, a, select, summary, input:not([type=checkbox]), label.tick",
        );
        return [...controls]
          .map((control) => ({ text: control.textContent, box: control.getBoundingClientRect() }))
          .filter(({ box }) => box.width > 0 && (box.height < 44 || box.width < 44))
          .filter(({ text }) => text !== "Skip to the content")
          .map(({ text, box }) => `${text}: ${box.width} x ${box.height}`);
      });
      expect(small).toEqual([]);
    });

    it("says what will flow and where the leads go, and marks what is demo", async () => {
      await choose("A-2");
      expect(await page.locator(".steps button").count()).toBe(5);
      await eventually(() => page.locator(".step-summary").textContent()).toContain("120 A = 200 % of 60 A");
      await expect
        .poll(() => page.locator(".step-summary").textContent(), { timeout: 10_000 })
        .toContain("pole 1");
      expect(await page.locator(".workplace .demo-mark").count()).toBe(1);
      await choose("B-7");
      await eventually(() => page.locator(".specimen-head").textContent()).toContain("B-7");
      expect(await page.locator(".workplace .demo-mark").count()).toBe(0);
    });

    it("has no red on the screen while no current flows", async () => {
      await choose("A-1");
      const red = await page.evaluate((live) => {
        const styles = [...document.querySelectorAll("*")].map((element) => getComputedStyle(element));
        return styles.filter((style) => style.backgroundColor === live || style.color === live).length;
      }, liveRed);
      // The bar of elapsed time is there only while a test runs.
      expect(red).toBe(0);
    });

    it("lets nobody start without the confirmation, and asks for it anew at another step", async () => {
      await choose("A-1");
      expect(await start().isDisabled()).toBe(true);
      await confirm();
      expect(await start().isDisabled()).toBe(false);
      await page.locator(".steps button").nth(1).click();
      await eventually(() => start().isDisabled()).toBe(true);
      expect(posts("/api/shots")).toEqual([]);
    });

    it.each([
      [{ interlock: "open" as const }, "interlock"],
      [{ button: "pressed" as const }, "stop button is pressed"],
      [{ state: "fault" as const }, "fault"],
      [
        { state: "absent" as const, identity: null, problem: "Nothing answers at serial:/dev/ttyUSB0." },
        "No rig",
      ],
    ])("keeps the start closed and says why: %j", async (change, words) => {
      await choose("A-1");
      await confirm();
      bench.setRig(change);
      await eventually(() => page.locator(".in-the-way").textContent()).toContain(words);
      expect(await start().isDisabled()).toBe(true);
    });

    it("names every control for those who hear the page", async () => {
      await choose("A-1");
      const nameless = await page.evaluate(() =>
        [...document.querySelectorAll("button, a, input, select, textarea, [role=img]")]
          .filter((element) => {
            const labels = (element as HTMLInputElement).labels;
            const text = `${element.textContent}${element.getAttribute("aria-label") ?? ""}${[...(labels ?? [])].map((label) => label.textContent).join("")}`;
            return text.trim() === "";
          })
          .map((element) => element.outerHTML),
      );
      expect(nameless).toEqual([]);
      expect(
        await page.getByRole("img", { name: /Time-current chart/ }).getAttribute("aria-label"),
      ).toContain("200 %: trip within 120 s");
    });
  });

  describe("a test", () => {
    it("goes from the start to the verdict in view, with the stop red only while current flows", async () => {
      bench.plan({ speed: 15, opensAfterSeconds: 40 });
      await choose("A-1");
      await confirm();
      expect(await groundOf(".stop-large")).not.toBe(liveRed);
      await start().click();
      await eventually(() => groundOf(".stop-large")).toBe(liveRed);
      await eventually(() => page.locator(".run-state").textContent()).toContain(
        "waiting for the breaker to open",
      );
      await eventually(() => page.locator(".elapsed output").textContent()).toMatch(/^2\d\.\d s$/);
      await expect
        .poll(() => page.locator(".live-numbers").textContent(), { timeout: 10_000 })
        .toMatch(/(39|40)\.\d A/);
      const heard = () => page.locator('.for-ears[role="status"]').textContent();
      expect(await heard()).toBe("Current on: waiting for the breaker to open");
      await picture(page, "bench-running-laptop");
      await page.locator(".ended").waitFor();
      expect(await groundOf(".stop-large")).not.toBe(liveRed);
      await expect
        .poll(() => page.locator(".ended .result-large").textContent(), { timeout: 10_000 })
        .toBe("Pass");
      await expect
        .poll(() => page.locator(".ended").textContent(), { timeout: 10_000 })
        .toContain("A-1 tripped after 40");
      expect(await heard()).toMatch(/^Pass. A-1 tripped after 40/);
      await expect
        .poll(() => page.locator(".reasons").textContent(), { timeout: 10_000 })
        .toContain("held against 120 s");
      await page.waitForTimeout(400);
      await picture(page, "bench-pass-laptop");
      expect(posts("/api/shots").map((one) => one.body)).toEqual([
        {
          specimen: "TEST-S0001",
          limitSet: "ul-489-calibration",
          multiple: 2,
          loading: "pole-1",
          confirmedSafe: true,
        },
      ]);
      await page.getByRole("button", { name: "Back to the programme" }).click();
      await eventually(() => page.locator(".steps button").first().textContent()).toContain("Pass");
      // The next step without a test is proposed, and its confirmation is asked for anew.
      await expect
        .poll(() => page.locator('.steps button[aria-pressed="true"]').textContent(), { timeout: 10_000 })
        .toContain("135 %");
      expect(await start().isDisabled()).toBe(true);
    });

    it("shows a breaker that does not trip as a fail, and says that it stays hot", async () => {
      bench.plan({ speed: 120, opensAfterSeconds: null });
      await begin("A-1");
      await page.locator(".ended").waitFor();
      await page.waitForTimeout(400);
      await picture(page, "bench-fail-laptop");
      await expect
        .poll(() => page.locator(".ended .result-large").textContent(), { timeout: 10_000 })
        .toBe("Fail");
      await expect
        .poll(() => page.locator(".ended").textContent(), { timeout: 10_000 })
        .toContain("did not trip in");
      await expect
        .poll(() => page.locator(".ended").textContent(), { timeout: 10_000 })
        .toContain("stays hot and closed");
    });

    it("is stopped by Escape from anywhere, and a stopped test is undetermined", async () => {
      await begin("A-1");
      await page.locator(".run-state", { hasText: "waiting" }).waitFor();
      await page.getByPlaceholder("Search label, job or rating").focus();
      await page.keyboard.press("Escape");
      await page.locator(".ended").waitFor();
      expect(posts("/api/stop")).toHaveLength(1);
      await expect
        .poll(() => page.locator(".ended .result-large").textContent(), { timeout: 10_000 })
        .toBe("Undetermined");
      await expect
        .poll(() => page.locator(".ended").textContent(), { timeout: 10_000 })
        .toContain("neither a pass nor a fail");
      await picture(page, "bench-undetermined-laptop");
    });

    it("puts the stop under the hand when current begins, and a held key does not press it", async () => {
      await choose("A-1");
      await confirm();
      await start().focus();
      await page.keyboard.down("Enter");
      await eventually(() => page.evaluate(() => document.activeElement?.textContent)).toBe("Stop test");
      await page.keyboard.down("Enter");
      await page.keyboard.down("Enter");
      await page.keyboard.up("Enter");
      await page.waitForTimeout(200);
      expect(posts("/api/stop")).toEqual([]);
      await page.keyboard.press("Enter");
      await page.locator(".ended").waitFor();
      expect(posts("/api/stop")).toHaveLength(1);
    });

    it("can be run from the keyboard alone", async () => {
      bench.plan({ speed: 60, opensAfterSeconds: 40 });
      await page.locator(".rows a").first().focus();
      await page.keyboard.press("ArrowDown");
      await page.keyboard.press("ArrowUp");
      await page.keyboard.press("Enter");
      await page.locator(".steps button").first().waitFor();
      await page.locator(".steps button").first().focus();
      await page.keyboard.press("ArrowDown");
      await page.keyboard.press("Enter");
      for (let i = 0; i < 12; i++) {
        await page.keyboard.press("Tab");
        const onBox = await page.evaluate(
          () => (document.activeElement as HTMLInputElement).type === "checkbox",
        );
        if (onBox) break;
      }
      await page.keyboard.press("Space");
      await page.keyboard.press("Tab");
      await page.keyboard.press("Space");
      await page.locator(".run").waitFor();
      expect(posts("/api/shots")[0]?.body).toMatchObject({ specimen: "TEST-S0001", multiple: 1.35 });
      await page.locator(".ended").waitFor();
    });

    it("shows in plain words why the bench refused", async () => {
      await choose("A-1");
      await confirm();
      bench.refuse("/api/shots", {
        type: "about:blank",
        title: "Not possible now",
        status: 409,
        detail: "the test needs 40 A; the rig drives 100 A to 2000 A",
      });
      await start().click();
      await eventually(() => page.locator(".step-start .problem").textContent()).toContain(
        "the test needs 40 A",
      );
      await picture(page, "bench-refused-laptop");
    });

    it("is found again when the page is loaded in the middle of it", async () => {
      bench.plan({ speed: 5, opensAfterSeconds: 60 });
      await begin("A-1");
      await page.locator(".run-state", { hasText: "waiting" }).waitFor();
      await page.goto(`${bench.url}#/record`);
      await page.reload();
      await page.locator(".header-stop").waitFor();
      await expect
        .poll(() => page.locator(".header-stop").textContent(), { timeout: 10_000 })
        .toContain("Test running on A-1");
      await picture(page, "record-while-running");
      await page.getByRole("link", { name: "Test running on A-1" }).click();
      await eventually(() => page.locator(".elapsed output").textContent()).toMatch(/^[1-9]/);
    });
  });

  describe("from the line to the picture", () => {
    it("adds no more than two frames at 60 samples a second", async () => {
      bench.plan({ speed: 1, opensAfterSeconds: 4 });
      await begin("A-1");
      await page.locator(".ended").waitFor({ timeout: 20_000 });
      const delay = await frameDelay(page);
      expect(delay.fromArrival.length).toBeGreaterThan(120);
      expect(Math.max(...delay.fromArrival)).toBeLessThanOrEqual(2);
      // Between the sender's stamp and the page lie a socket and two processes, which this machine may hold up now and then.
      const sorted = [...delay.fromLine].sort((a, b) => a - b);
      expect(sorted[Math.floor(sorted.length * 0.95)]).toBeLessThanOrEqual(2);
    });
  });

  describe("without the bench program", () => {
    it("says that nothing is known, and still tries to stop", async () => {
      bench.plan({ speed: 1, opensAfterSeconds: null });
      await begin("A-1");
      await page.locator(".run-state", { hasText: "waiting" }).waitFor();
      bench.refuse("/api/stop", { type: "", title: "", status: 500, detail: "" });
      bench.cutFeeds();
      await page.locator(".banner-abnormal").waitFor();
      await expect
        .poll(() => page.locator(".banner-abnormal").textContent(), { timeout: 10_000 })
        .toContain("hard-wired emergency stop");
      await expect
        .poll(() => page.locator(".rig-state").textContent(), { timeout: 10_000 })
        .toBe("State not known");
      await expect
        .poll(() => page.locator(".run-state").textContent(), { timeout: 10_000 })
        .toContain("not known");
      expect(await groundOf(".stop-large")).toBe(liveRed);
      await stop().click();
      await eventually(() => posts("/api/stop").length).toBeGreaterThan(2);
      await eventually(() => page.locator(".stop-note").textContent()).toContain(
        "Press the hard-wired emergency stop now",
      );
      await picture(page, "bench-lost-laptop");
      bench.refuse("/api/stop", null);
      bench.restoreFeeds();
      await eventually(() => page.locator(".banner-abnormal").count()).toBe(0);
      // The end went by unheard; it is looked up in the record.
      await page.locator(".ended").waitFor();
      await expect
        .poll(() => page.locator(".ended .result-large").textContent(), { timeout: 10_000 })
        .toBe("Undetermined");
    });
  });

  describe("receiving a specimen", () => {
    it("says beside each field what is missing, and sends nothing", async () => {
      await page.getByRole("button", { name: "Receive a specimen" }).click();
      await page.getByLabel("Rated current").fill("twenty");
      await page.getByRole("button", { name: "Receive", exact: true }).click();
      const problems = await page.locator(".field-problem").allTextContents();
      expect(problems).toHaveLength(4);
      expect(problems.join(" ")).toContain('Found "twenty"; a number is accepted, for example 20 A.');
      expect(posts("/api/specimens")).toEqual([]);
      await picture(page, "bench-receive-laptop");
    });

    it("shows what the server found beside the field, also under the fold", async () => {
      await page.getByRole("button", { name: "Receive a specimen" }).click();
      await page.getByLabel("Label", { exact: true }).fill("C-1");
      await page.getByLabel("Rated current").fill("20");
      await page.getByLabel("Poles", { exact: true }).selectOption("1");
      await page.getByLabel("Rated voltage").fill("240");
      bench.refuse("/api/specimens", {
        type: "about:blank",
        title: "",
        status: 400,
        detail: "madeYear must be >= 1900",
        fields: [{ field: "madeYear", problem: "must be >= 1900" }],
      });
      await page.getByRole("button", { name: "Receive", exact: true }).click();
      await eventually(() => page.locator(".field-problem").allTextContents()).toEqual(["must be >= 1900"]);
      expect(await page.getByLabel("Year of manufacture").getAttribute("aria-describedby")).toBe(
        "field-madeYear-problem",
      );
    });

    it("takes the new specimen to its programme and keeps for the next one what stays the same", async () => {
      await page.getByRole("button", { name: "Receive a specimen" }).click();
      await page.getByLabel("Label", { exact: true }).fill("C-1");
      await page.getByLabel("Rated current").fill("62,5");
      await page.getByLabel("Poles", { exact: true }).selectOption("2");
      await page.getByLabel("Rated voltage").fill("240");
      await page.getByText("Origin, condition and marking").click();
      await page.getByLabel("Job", { exact: true }).fill("Mill Lane 3");
      await page.getByRole("button", { name: "Receive", exact: true }).click();
      await eventually(() => page.locator(".specimen-head").textContent()).toContain("C-1");
      expect(posts("/api/specimens")[0]?.body).toEqual({
        label: "C-1",
        ratedAmps: 62.5,
        poles: 2,
        volts: 240,
        job: "Mill Lane 3",
        demo: true,
      });
      await page.getByRole("button", { name: "Receive a specimen" }).click();
      expect(await page.getByLabel("Label", { exact: true }).inputValue()).toBe("");
      expect(await page.getByLabel("Rated current").inputValue()).toBe("62,5");
    });

    it("writes down that the handle was moved, which ends the as-found state", async () => {
      await choose("A-1");
      await expect
        .poll(() => page.locator(".specimen-head").textContent(), { timeout: 10_000 })
        .toContain("as found");
      await page.getByText("Handle moved").click();
      await page.getByLabel("Why, and by whom").fill("tried by hand");
      await page.getByRole("button", { name: "Write it down" }).click();
      await eventually(() => page.locator(".specimen-head").textContent()).toContain(
        "exercised, operated 1 time",
      );
      expect(posts("/api/specimens/TEST-S0001/handle")[0]?.body).toEqual({
        operations: 1,
        note: "tried by hand",
      });
    });
  });

  it("uses another rig by its address", async () => {
    await page.getByText("Use another rig").click();
    await page.getByRole("button", { name: "serial port /dev/ttyUSB0" }).click();
    await page.getByRole("button", { name: "Connect" }).click();
    await eventually(() => posts("/api/rig/connect").map((one) => one.body)).toEqual([
      { address: "serial:/dev/ttyUSB0" },
    ]);
  });

  it("shows the making of the demo lab with its progress, and starts no test meanwhile", async () => {
    await choose("A-1");
    await confirm();
    bench.seed({ done: 14, total: 60, doing: "ML-02: 135 %, pole 1 alone" });
    await eventually(() => page.locator(".banner").textContent()).toContain(
      "Making the demo lab: 14 of 60 tests.",
    );
    expect(await start().isDisabled()).toBe(true);
    await picture(page, "bench-seeding-laptop");
    bench.seed(null);
    await eventually(() => page.locator(".banner").count()).toBe(0);
  });

  it("moves nothing for those who ask for less motion", async () => {
    await page.emulateMedia({ reducedMotion: "reduce" });
    const moving = await page.evaluate(
      () =>
        [...document.querySelectorAll("*")].filter((element) => {
          const { transitionDuration, animationName } = getComputedStyle(element);
          return transitionDuration !== "0s" || animationName !== "none";
        }).length,
    );
    expect(moving).toBe(0);
  });
});
