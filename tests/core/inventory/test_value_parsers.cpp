// SPDX-License-Identifier: GPL-3.0-or-later
// The spellings are those of DESIGN and of common practice (no source).
#include "core/inventory/value_parsers.h"

#include <rapidcheck.h>

#include <QtTest>

using namespace keyround;

namespace {

// "-" stands for "not given", "!" for an error; anything else is the value in words.
template <typename T, typename Words>
QString outcome(const Result<std::optional<T>> &r, Words words)
{
    if (!r) {
        return QStringLiteral("!");
    }
    return *r ? QString(words(**r)) : QStringLiteral("-");
}

void rows(const std::initializer_list<std::pair<const char *, const char *>> &cases)
{
    QTest::addColumn<QString>("text");
    QTest::addColumn<QString>("expected");
    for (const auto &[text, expected] : cases) {
        QTest::newRow(*text == '\0' ? "blank" : text)
            << QString::fromUtf8(text) << QString::fromUtf8(expected);
    }
}

} // namespace

class TestValueParsers : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void sizes_data()
    {
        rows({{"6", "6"},          {"6\"", "6"},      {"6''", "6"},      {"6 in", "6"},
              {"6in.", "6"},       {"6 inch", "6"},   {"6 INCHES", "6"}, {"06", "6"},
              {"6.0", "6"},        {"6”", "6"},       {"DN150", "6"},    {"DN 150", "6"},
              {"dn-150", "6"},     {"150 mm", "6"},   {"150mm", "6"},    {"152 mm", "6"},
              {"2-1/4\"", "2.25"}, {"2 1/2", "2.5"},  {"2½ in", "2.5"},  {".75", "0.75"},
              {"3/4", "0.75"},     {"75 mm", "3"},    {"80 mm", "3"},    {"30 cm", "12"},
              {"48", "48"},        {"108 in", "108"}, {"0", "-"},        {"", "-"},
              {"NULL", "-"},       {"-", "-"},        {"N/A", "-"},      {" n/a ", "-"},
              {"?", "-"},          {"150", "!"},      {"6x4", "!"},      {"six", "!"},
              {"-6", "!"},         {"6.1", "!"},      {"1/0", "!"},      {"2 5/4", "!"},
              {"6,5", "!"},        {"DN", "!"},       {"DN 9999", "!"},  {"163 mm", "6.5"},
              {"170 mm", "!"},     {"1e9", "!"},      {"6 ft", "!"}});
    }
    static void sizes()
    {
        QFETCH(QString, text);
        QFETCH(QString, expected);
        QCOMPARE(
            outcome(parseSize(text), [](NominalSize s) { return QString::number(s.inches()); }),
            expected);
    }
    static void bareMillimetres()
    {
        QCOMPARE(parseSize(QStringLiteral("300"), BareSize::Millimetres).value(),
                 std::optional(NominalSize::ofInches(12)));
        QCOMPARE(parseSize(QStringLiteral("12\""), BareSize::Millimetres).value(),
                 std::optional(NominalSize::ofInches(12)));
    }

    static void types_data()
    {
        rows({{"gate", "gate"},
              {"GV", "gate"},
              {"Gate Valve", "gate"},
              {"RSGV", "gate"},
              {"Resilient Seat Gate", "gate"},
              {"resilient wedge", "gate"},
              {"OS&Y gate", "gate"},
              {"Gate (non-geared)", "gate"},
              {"double disc", "gate"},
              {"geared gate", "geared gate"},
              {"Gate, bevel gear", "geared gate"},
              {"bevel gear", "geared gate"},
              {"Gate w/ spur gearing", "geared gate"},
              {"butterfly", "butterfly"},
              {"BFV", "butterfly"},
              {"Butterfly-geared", "butterfly"},
              {"Ball valve", "ball"},
              {"plug", "plug"},
              {"ECCENTRIC PLUG", "plug"},
              {"globe", "other"},
              {"Check", "other"},
              {"knife gate", "other"},
              {"Unknown", "unknown"},
              {"", "-"},
              {"<Null>", "-"},
              {"BV", "!"},
              {"gate or butterfly", "!"},
              {"7", "!"}});
    }
    static void types()
    {
        QFETCH(QString, text);
        QFETCH(QString, expected);
        QCOMPARE(outcome(parseValveType(text), [](ValveType t) { return wordFor(t); }), expected);
    }

    static void directions_data()
    {
        // The direction to close: what opens left closes clockwise.
        rows({{"R", "clockwise"},
              {"right", "clockwise"},
              {"CW", "clockwise"},
              {"Clockwise", "clockwise"},
              {"L", "counterclockwise"},
              {"LEFT", "counterclockwise"},
              {"CCW", "counterclockwise"},
              {"C.C.W.", "counterclockwise"},
              {"counter-clockwise", "counterclockwise"},
              {"Counter Clockwise", "counterclockwise"},
              {"anticlockwise", "counterclockwise"},
              {"open left", "clockwise"},
              {"Opens Left", "clockwise"},
              {"opens left (CCW)", "clockwise"},
              {"left to open", "clockwise"},
              {"OL", "clockwise"},
              {"OR", "counterclockwise"},
              {"open right", "counterclockwise"},
              {"opens CW", "counterclockwise"},
              {"closes right", "clockwise"},
              {"close left", "counterclockwise"},
              {"open left, close right", "clockwise"},
              {"closes left/opens right", "counterclockwise"},
              {"right hand close", "clockwise"},
              {"", "-"},
              {"NULL", "-"},
              {"open", "!"},
              {"L/R", "!"},
              {"open left, close left", "!"},
              {"opens left (CW)", "!"},
              {"up", "!"},
              {"1", "!"}});
    }
    static void directions()
    {
        QFETCH(QString, text);
        QFETCH(QString, expected);
        QCOMPARE(
            outcome(parseClosingDirection(text), [](ClosingDirection d) { return wordFor(d); }),
            expected);
    }

    static void positions_data()
    {
        rows({{"open", "open"},
              {"O", "open"},
              {"NO", "open"},
              {"N.O.", "open"},
              {"n/o", "open"},
              {"Normally Open", "open"},
              {"closed", "closed"},
              {"C", "closed"},
              {"NC", "closed"},
              {"n.c.", "closed"},
              {"Normally closed", "closed"},
              {"Shut", "closed"},
              {"", "-"},
              {"N/A", "-"},
              {"1", "!"},
              {"0", "!"},
              {"yes", "!"},
              {"No", "!"},
              {"no", "!"},
              {"half open", "!"},
              {"open/closed", "!"}});
    }
    static void positions()
    {
        QFETCH(QString, text);
        QFETCH(QString, expected);
        QCOMPARE(outcome(parseNormalPosition(text), [](NormalPosition p) { return wordFor(p); }),
                 expected);
    }

    static void roles_data()
    {
        rows({{"main line", "main line"},
              {"Mainline", "main line"},
              {"isolation", "main line"},
              {"Hydrant Lead", "hydrant lead"},
              {"fire hydrant", "hydrant lead"},
              {"FH", "hydrant lead"},
              {"zone boundary", "boundary"},
              {"Division", "boundary"},
              {"Blow-off", "blow-off"},
              {"blowoff", "blow-off"},
              {"by-pass", "bypass"},
              {"fire line", "fire line"},
              {"Fire Service", "fire line"},
              {"service", "service"},
              {"other", "other"},
              {"", "-"},
              {"purple", "!"}});
    }
    static void roles()
    {
        QFETCH(QString, text);
        QFETCH(QString, expected);
        QCOMPARE(outcome(parseValveRole(text), [](ValveRole r) { return wordFor(r); }), expected);
    }

    static void turns_data()
    {
        rows({{"27", "108"},
              {"26.5", "106"},
              {"26 1/2", "106"},
              {"26½", "106"},
              {"27 turns", "108"},
              {"0", "0"},
              {"2000", "8000"},
              {"", "-"},
              {"-", "-"},
              {"-3", "!"},
              {"2001", "!"},
              {"26.3", "!"},
              {"1,200", "!"},
              {"many", "!"},
              {"nan", "!"}});
    }
    static void turns()
    {
        QFETCH(QString, text);
        QFETCH(QString, expected);
        QCOMPARE(outcome(parseTurns(text), [](QuarterTurns t) { return QString::number(t.value); }),
                 expected);
    }

    static void numbers_data()
    {
        rows({{"1234.5", "1234.5"},
              {"-88.25", "-88.25"},
              {"+3", "3"},
              {".5", "0.5"},
              {"1e3", "1000"},
              {"", "-"},
              {"null", "-"},
              {"1,234", "!"},
              {"1 234", "!"},
              {"inf", "!"},
              {"nan", "!"},
              {"0x10", "!"},
              {"1.2.3", "!"},
              {"1e999", "!"}});
    }
    static void numbers()
    {
        QFETCH(QString, text);
        QFETCH(QString, expected);
        QCOMPARE(outcome(parseNumber(text), [](double v) { return QString::number(v); }), expected);
    }

    static void years_data()
    {
        rows({{"1987", "1987"},
              {"1987.0", "1987"},
              {"1987-05-01", "1987"},
              {"3/4/1987", "1987"},
              {"25/12/1987", "1987"},
              {"12/25/1987", "1987"},
              {"0", "-"},
              {"", "-"},
              {"87", "!"},
              {"1849", "!"},
              {"2101", "!"},
              {"31/31/1987", "!"},
              {"old", "!"}});
    }
    static void years()
    {
        QFETCH(QString, text);
        QFETCH(QString, expected);
        QCOMPARE(outcome(parseYear(text), [](int y) { return QString::number(y); }), expected);
    }

    static void dates_data()
    {
        QTest::addColumn<QString>("text");
        QTest::addColumn<QString>("asked");
        QTest::addColumn<QString>("monthFirst");
        QTest::addColumn<QString>("dayFirst");
        const auto row = [](const char *text, const char *asked, const char *monthFirst,
                            const char *dayFirst) {
            QTest::newRow(text) << QString::fromUtf8(text) << QString::fromUtf8(asked)
                                << QString::fromUtf8(monthFirst) << QString::fromUtf8(dayFirst);
        };
        row("2021-03-04", "2021-03-04", "2021-03-04", "2021-03-04");
        row("2021/3/4", "2021-03-04", "2021-03-04", "2021-03-04");
        row("2021-03-04T07:15:00Z", "2021-03-04", "2021-03-04", "2021-03-04");
        row("2021/03/04 00:00:00", "2021-03-04", "2021-03-04", "2021-03-04");
        row("20210304", "2021-03-04", "2021-03-04", "2021-03-04");
        row("4 Mar 2021", "2021-03-04", "2021-03-04", "2021-03-04");
        row("March 4, 2021", "2021-03-04", "2021-03-04", "2021-03-04");
        row("3/4/2021", "!", "2021-03-04", "2021-04-03");
        row("3/4/2021 12:00:00 AM", "!", "2021-03-04", "2021-04-03");
        row("25.12.2021", "!", "!", "2021-12-25");
        row("12-25-2021", "!", "2021-12-25", "!");
        row("29.02.2024", "!", "!", "2024-02-29");
        row("2/29/2023", "!", "!", "!");
        row("2023-02-29", "!", "!", "!");
        row("2021-13-01", "!", "!", "!");
        row("3/4/21", "!", "!", "!");
        row("1-Mar", "!", "!", "!");
        row("Mar-21", "!", "!", "!");
        row("44256", "!", "!", "!");
        row("1700-01-01", "!", "!", "!");
        row("soon", "!", "!", "!");
        row("-", "-", "-", "-");
    }
    static void dates()
    {
        QFETCH(QString, text);
        QFETCH(QString, asked);
        QFETCH(QString, monthFirst);
        QFETCH(QString, dayFirst);
        const auto iso = [](const QDate &d) { return d.toString(Qt::ISODate); };
        QCOMPARE(outcome(parseDate(text, std::nullopt), iso), asked);
        QCOMPARE(outcome(parseDate(text, DateOrder::MonthFirst), iso), monthFirst);
        QCOMPARE(outcome(parseDate(text, DateOrder::DayFirst), iso), dayFirst);
    }
    static void messagesHelp()
    {
        QVERIFY(parseDate(QStringLiteral("1-Mar"), {})
                    .error()
                    .message.contains(QLatin1String("spreadsheet")));
        QVERIFY(parseDate(QStringLiteral("3/4/2021"), {})
                    .error()
                    .message.contains(QLatin1String("order")));
        QVERIFY(parseSize(QStringLiteral("150"))
                    .error()
                    .message.contains(QLatin1String("millimetres")));
    }

    static void everyQuarterIsReadBack()
    {
        QVERIFY(rc::check("turns and sizes shown are read back", []() {
            const QuarterTurns turnsMade{*rc::gen::inRange(0, 8001)};
            RC_ASSERT(parseTurns(turnsText(turnsMade)).value() == std::optional(turnsMade));
            const NominalSize size{*rc::gen::inRange(1, 577)};
            RC_ASSERT(parseSize(sizeText(size, UnitSystem::Us)).value() == std::optional(size));
        }));
    }
    static void noTextHurts()
    {
        QVERIFY(rc::check("any text is read or refused with a message", []() {
            const auto text = QString::fromStdString(*rc::gen::string<std::string>());
            const auto told = [](const auto &r) { return r || r.error().message.size() > 20; };
            RC_ASSERT(told(parseSize(text)));
            RC_ASSERT(told(parseValveType(text)));
            RC_ASSERT(told(parseClosingDirection(text)));
            RC_ASSERT(told(parseNormalPosition(text)));
            RC_ASSERT(told(parseValveRole(text)));
            RC_ASSERT(told(parseTurns(text)));
            RC_ASSERT(told(parseNumber(text)));
            RC_ASSERT(told(parseYear(text)));
            RC_ASSERT(told(parseDate(text, DateOrder::DayFirst)));
        }));
    }
};

QTEST_GUILESS_MAIN(TestValueParsers)
#include "test_value_parsers.moc"
