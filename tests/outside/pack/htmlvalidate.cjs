// Rules of html-validate for the pack. All that it recommends, and those for accessibility, but:
module.exports = {
    root: true,
    extends: ["html-validate:recommended", "html-validate:a11y"],
    rules: {
        // Roles of tables are said on purpose: on a narrow screen rows are shown as blocks, and
        // browsers then forget that a table is one.
        "no-redundant-role": "off",
        // The title names the work and the plant, however long the plant file's own names are.
        "long-title": "off",
        // Widths of columns differ from table to table; nothing else may be said in line.
        "no-inline-style": ["error", { allowedProperties: ["width"] }],
    },
};
