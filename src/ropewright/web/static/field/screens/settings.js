// How a person likes it: units, hand, light; and what this phone is.

import { change, session } from "../session.js";
import { h } from "../dom.js";
import { t } from "../texts.js";
import { choices, fact, facts } from "../pieces.js";

const options = (name, values) => values.map((value) => ({ value, words: t(`settings.${name}.${value}`) }));

export async function settingsScreen(app) {
  const { units, hand, theme } = session.settings;
  const set = (changes) => change(changes).then(app.refresh);
  const pick = (name, values, current, columns) =>
    choices(t(`settings.${name}`), options(name, values), current, (value) => value && set({ [name]: value }), { columns });
  return {
    title: t("settings.title"),
    back: "/",
    body: [
      pick("theme", ["auto", "dark", "glare"], theme, 3),
      pick("hand", ["right", "left"], hand, 2),
      pick("units", ["metric", "us"], units, 2),
      facts(
        fact(t("settings.who"), session.me?.name ?? t("ropes.nobody")),
        fact(t("settings.roles"), (session.me?.roles ?? []).join(", ")),
        fact(t("settings.phone"), session.device.slice(0, 8))),
      h("p.help", null, h("a.link", { href: "/" }, t("settings.office"))),
    ],
  };
}
