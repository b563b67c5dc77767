// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/schedule/policy.h"

#include <QtTest>

#include <QFile>
#include <QJsonArray>
#include <QJsonDocument>

using namespace keyround;

namespace {

std::vector<Policy> packs()
{
    QFile file(QStringLiteral(KEYROUND_SOURCE_DIR "/resources/policies.json"));
    if (!file.open(QIODevice::ReadOnly)) {
        return {};
    }
    return policyPacks(file.readAll()).value_or(std::vector<Policy>());
}

Valve valveOf(int inches, ValveRole role = ValveRole::MainLine, bool critical = false)
{
    Valve valve;
    valve.size = NominalSize::ofInches(inches);
    valve.role = role;
    if (critical) {
        valve.criticalCustomers = QStringLiteral("an invented hospital");
    }
    return valve;
}

int months(const QString &pack, const Valve &valve)
{
    for (const Policy &policy : packs()) {
        if (policy.name.startsWith(pack)) {
            const PolicyRule *rule = policy.ruleFor(valve);
            return rule == nullptr ? -1 : rule->intervalMonths;
        }
    }
    return -2;
}

Result<Policy> read(const char *json)
{
    return policyFromJson(QJsonDocument::fromJson(json).object());
}

} // namespace

class TestPolicy : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    static void packsCiteTheirSources()
    {
        QCOMPARE(packs().size(), size_t{8});
        for (const Policy &policy : packs()) {
            QVERIFY(!policy.rules.empty());
            for (const PolicyRule &rule : policy.rules) {
                QVERIFY2(rule.source.size() > 5, qPrintable(rule.name));
            }
        }
    }
    static void theStartIsTheFirstPack() { QCOMPARE(startingPolicy(), packs().at(0)); }
    static void publishedIntervals()
    {
        // Wisconsin NR 810.13(2)(a): 2 to 5 years; hydrant leads 5 to 7 recommended.
        const auto wisconsin = QStringLiteral("Wisconsin NR 810.13, longest");
        QCOMPARE(months(wisconsin, valveOf(8)), 60);
        QCOMPARE(months(wisconsin, valveOf(6, ValveRole::HydrantLead)), 84);
        const auto shortest = QStringLiteral("Wisconsin NR 810.13, shortest");
        QCOMPARE(months(shortest, valveOf(8)), 24);
        QCOMPARE(months(shortest, valveOf(6, ValveRole::HydrantLead)), 60);
        // N.J.S.A. 58:31-3(b), in both readings: 12 in and larger, others, service exempt.
        const auto newJersey = QStringLiteral("New Jersey 58:31-3, 2");
        QCOMPARE(months(newJersey, valveOf(12)), 24);
        QCOMPARE(months(newJersey, valveOf(10)), 48);
        QCOMPARE(months(newJersey, valveOf(2, ValveRole::Service)), 0);
        const auto statute = QStringLiteral("New Jersey 58:31-3, 4");
        QCOMPARE(months(statute, valveOf(12)), 48);
        QCOMPARE(months(statute, valveOf(10)), 96);
        // UFC 3-230-02, section 8.3.3.2: twice a year.
        QCOMPARE(months(QStringLiteral("Twice a year"), valveOf(8)), 6);
        // KPBS, 2 July 2012: yearly, more often from 16 in or when critical.
        const auto yearly = QStringLiteral("Every year");
        QCOMPARE(months(yearly, valveOf(8)), 12);
        QCOMPARE(months(yearly, valveOf(16)), 6);
        QCOMPARE(months(yearly, valveOf(8, ValveRole::MainLine, true)), 6);
        // Plano, Texas, council memo of 12 June 2023: 5 years.
        QCOMPARE(months(QStringLiteral("Every 5 years"), valveOf(8)), 60);
        const auto example = QStringLiteral("Example");
        QCOMPARE(months(example, valveOf(16)), 12);
        QCOMPARE(months(example, valveOf(8)), 36);
    }
    static void theFirstMatchCounts()
    {
        PolicyRule large;
        large.sizeFrom = NominalSize::ofInches(16);
        QVERIFY(large.matches(valveOf(16)));
        QVERIFY(!large.matches(valveOf(14)));
        QVERIFY(!large.matches(Valve())); // size not known
        PolicyRule band;
        band.sizeFrom = NominalSize::ofInches(4);
        band.sizeTo = NominalSize::ofInches(8);
        QVERIFY(band.matches(valveOf(4)) && band.matches(valveOf(8)) && !band.matches(valveOf(10)));
        PolicyRule zone;
        zone.zones = {QStringLiteral("high")};
        QVERIFY(!zone.matches(valveOf(8)));
        Policy policy;
        policy.rules = {large, band};
        QCOMPARE(policy.ruleFor(valveOf(6)), &policy.rules[1]);
        QCOMPARE(policy.ruleFor(valveOf(12)), nullptr);
    }
    static void comesBackFromJson()
    {
        for (const Policy &policy : packs()) {
            const auto again = policyFromJson(toJson(policy));
            QVERIFY(again);
            QCOMPARE(*again, policy);
        }
        Policy all;
        all.name = QStringLiteral("all limits");
        all.note = QStringLiteral("a note");
        all.dueSoonDays = 0;
        PolicyRule rule;
        rule.name = QStringLiteral("narrow");
        rule.source = QStringLiteral("utility's own");
        rule.sizeFrom = NominalSize{9};
        rule.sizeTo = NominalSize::ofInches(144);
        rule.types = {ValveType::GearedGate, ValveType::Butterfly, ValveType::Unknown};
        rule.roles = {ValveRole::FireLine, ValveRole::BlowOff};
        rule.zones = {QStringLiteral("A"), QStringLiteral("-")};
        rule.criticalOnly = true;
        rule.intervalMonths = 18;
        all.rules = {rule};
        QCOMPARE(policyFromJson(toJson(all)).value(), all);
    }
    static void badJsonIsRefused_data()
    {
        QTest::addColumn<QByteArray>("json");
        QTest::newRow("empty") << QByteArray("{}");
        QTest::newRow("no rules") << QByteArray(R"({"name":"x"})");
        QTest::newRow("no name") << QByteArray(R"({"rules":[]})");
        QTest::newRow("odd entry") << QByteArray(R"({"name":"x","rule":[],"rules":[]})");
        QTest::newRow("days") << QByteArray(R"({"name":"x","due_soon_days":-1,"rules":[]})");
        const auto rule = [](const char *name, const char *text) {
            QTest::newRow(name) << QByteArray(R"({"name":"x","rules":[)") + text + "]}";
        };
        rule("rule is text", R"("every year")");
        rule("no source", R"({"name":"r","interval_months":12})");
        rule("no interval", R"({"name":"r","source":"s"})");
        rule("negative", R"({"name":"r","source":"s","interval_months":-1})");
        rule("half month", R"({"name":"r","source":"s","interval_months":1.5})");
        rule("text interval", R"({"name":"r","source":"s","interval_months":"12"})");
        rule("slip", R"({"name":"r","source":"s","interval_months":12,"size_form":"6 in"})");
        rule("size", R"({"name":"r","source":"s","interval_months":12,"size_from":"big"})");
        rule("bare size", R"({"name":"r","source":"s","interval_months":12,"size_from":6})");
        rule(
            "upside down",
            R"({"name":"r","source":"s","interval_months":12,"size_from":"8 in","size_to":"6 in"})");
        rule("type", R"({"name":"r","source":"s","interval_months":12,"types":["round"]})");
        rule("no types", R"({"name":"r","source":"s","interval_months":12,"types":[]})");
        rule("role", R"({"name":"r","source":"s","interval_months":12,"roles":[3]})");
        rule("critical", R"({"name":"r","source":"s","interval_months":12,"critical_only":"yes"})");
    }
    static void badJsonIsRefused()
    {
        QFETCH(QByteArray, json);
        const auto policy = read(json.constData());
        QVERIFY(!policy);
        QVERIFY(policy.error().message.startsWith(QLatin1String("The policy cannot be read")));
    }
    static void badPacksAreRefused()
    {
        QVERIFY(!policyPacks("not json"));
        QVERIFY(!policyPacks("{}"));
        QVERIFY(!policyPacks(R"({"packs":[]})"));
        QVERIFY(!policyPacks(R"({"packs":[{"name":"x"}]})"));
    }
};

QTEST_GUILESS_MAIN(TestPolicy)
#include "test_policy.moc"
