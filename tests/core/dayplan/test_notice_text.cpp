// SPDX-License-Identifier: GPL-3.0-or-later
// Wordings of notices: fields filled in, what does not exist refused, and the examples as shipped.
#include "core/dayplan/notice_text.h"

#include <QTest>

#include <rapidcheck.h>

using namespace keyround;

namespace {

NoticeFacts facts()
{
    return {QDate(2026, 3, 17), // a Tuesday
            QTime(8, 0),
            QTime(10, 30),
            QStringLiteral("We turn the valve at Alder Lane."),
            QStringLiteral("Invented Water Department"),
            QStringLiteral("555-0100")};
}

NoticeRecipient someone()
{
    return {QStringLiteral("S00001"), QStringLiteral("797 Alder Lane"),
            QStringLiteral("Customer 00001"), QStringLiteral("555-0179"), false};
}

NoticeTemplate wording(const QString &text, const char *language = "en-US")
{
    return {QStringLiteral("Test"), NoticeForm::DoorHanger, QLatin1String(language), {}, text};
}

} // namespace

class NoticeTextTest : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void fieldsAreFilled();
    void daysAndHoursAreWrittenInTheLanguage();
    void unknownFieldsAreRefused_data();
    void unknownFieldsAreRefused();
    void whatIsNotKnownIsRefused();
    void textOfACustomerIsNeverAField();
    void textWithoutBracesStays();
    void theExamplesFill();
};

void NoticeTextTest::fieldsAreFilled()
{
    const auto words =
        noticeWords(wording(QStringLiteral("{address}/{service}/{customer}/{why}/{utility}/"
                                           "{contact}/{{date}}")),
                    facts(), someone());
    QVERIFY(words);
    QCOMPARE(words->text, QStringLiteral("797 Alder Lane/S00001/Customer 00001/We turn the valve "
                                         "at Alder Lane./Invented Water Department/555-0100/"
                                         "{date}"));
}

void NoticeTextTest::daysAndHoursAreWrittenInTheLanguage()
{
    const QString text = QStringLiteral("{date}|{from}|{to}");
    const auto english = noticeWords(wording(text), facts(), someone());
    QVERIFY(english);
    // Unicode CLDR writes a narrow no-break space before AM in some versions.
    QString plain = english->text;
    plain.replace(QChar(0x202F), QLatin1Char(' ')).replace(QChar(0x00A0), QLatin1Char(' '));
    QCOMPARE(plain, QStringLiteral("Tuesday, March 17, 2026|8:00 AM|10:30 AM"));
    const auto spanish = noticeWords(wording(text, "es-US"), facts(), someone());
    QVERIFY2(spanish->text.startsWith(QStringLiteral("martes, 17 de marzo de 2026")),
             qPrintable(spanish->text));
}

void NoticeTextTest::unknownFieldsAreRefused_data()
{
    QTest::addColumn<QString>("text");
    QTest::addColumn<QString>("says");
    QTest::newRow("unknown") << QStringLiteral("On {day}") << QStringLiteral("{day}");
    QTest::newRow("the list is named") << QStringLiteral("{x}") << QStringLiteral("{contact}");
    QTest::newRow("open") << QStringLiteral("On {date") << QStringLiteral("brace");
    QTest::newRow("closed") << QStringLiteral("On date}") << QStringLiteral("brace");
    QTest::newRow("empty") << QStringLiteral("{}") << QStringLiteral("no field {}");
    QTest::newRow("case") << QStringLiteral("{Date}") << QStringLiteral("{Date}");
}

void NoticeTextTest::unknownFieldsAreRefused()
{
    QFETCH(QString, text);
    QFETCH(QString, says);
    const Status checked = checkNoticeText(text);
    QVERIFY(!checked);
    QVERIFY2(checked.error().message.contains(says), qPrintable(checked.error().message));
    QVERIFY(!noticeWords(wording(text), facts(), someone()));
    NoticeTemplate inTitle = wording(QStringLiteral("sound"));
    inTitle.title = text;
    QVERIFY(!checkTemplate(inTitle));
}

void NoticeTextTest::whatIsNotKnownIsRefused()
{
    NoticeFacts nothing = facts();
    nothing.contact.clear();
    const auto refused = noticeWords(wording(QStringLiteral("{contact}")), nothing, someone());
    QVERIFY(!refused);
    QVERIFY2(refused.error().message.contains(QStringLiteral("S00001")) &&
                 refused.error().message.contains(QStringLiteral("contact")),
             qPrintable(refused.error().message));
    NoticeRecipient unnamed = someone();
    unnamed.customer.clear();
    QCOMPARE(noticeWords(wording(QStringLiteral("{customer}")), facts(), unnamed)->text,
             QStringLiteral("Customer"));
}

void NoticeTextTest::textOfACustomerIsNeverAField()
{
    NoticeRecipient odd = someone();
    odd.address = QStringLiteral("{contact} <b>Lane</b> }");
    const auto words = noticeWords(wording(QStringLiteral("at {address}.")), facts(), odd);
    QVERIFY(words);
    QCOMPARE(words->text, QStringLiteral("at {contact} <b>Lane</b> }."));
}

void NoticeTextTest::textWithoutBracesStays()
{
    QVERIFY(rc::check("any text without braces comes out as it went in", [](std::string raw) {
        std::erase_if(raw, [](char c) { return c == '{' || c == '}'; });
        const QString text = QStringLiteral("x") + QString::fromLatin1(raw.c_str());
        const auto words = noticeWords(wording(text), facts(), someone());
        RC_ASSERT(words.has_value());
        RC_ASSERT(words->text == text);
    }));
    QVERIFY(rc::check("doubled braces come out single", [](std::string raw) {
        const QString text = QStringLiteral("x") + QString::fromLatin1(raw.c_str());
        QString doubled = text;
        doubled.replace(QLatin1Char('{'), QStringLiteral("{{"))
            .replace(QLatin1Char('}'), QStringLiteral("}}"));
        const auto words = noticeWords(wording(doubled), facts(), someone());
        RC_ASSERT(words.has_value());
        RC_ASSERT(words->text == text);
    }));
}

void NoticeTextTest::theExamplesFill()
{
    const NoticeTemplates shipped;
    QCOMPARE(shipped.list.size(), std::size_t{6});
    for (const NoticeTemplate &each : shipped.list) {
        const auto words = noticeWords(each, facts(), someone());
        QVERIFY2(words, qPrintable(words ? QString() : words.error().message));
        QVERIFY(!words->text.contains(QLatin1Char('{')));
        // Date, window, why, whom to ask: what a notice must say (OAR 860-036-1640).
        for (const QString &must :
             {QStringLiteral("17"), QStringLiteral("8:00"), QStringLiteral("10:30"), facts().why,
              facts().contact, someone().address}) {
            QVERIFY2(words->text.contains(must), qPrintable(each.name + must));
        }
    }
    QVERIFY(templateNamed(shipped, QStringLiteral(" door hanger, english")) != nullptr);
    QVERIFY(templateNamed(shipped, QStringLiteral("postcard")) == nullptr);
}

QTEST_GUILESS_MAIN(NoticeTextTest)
#include "test_notice_text.moc"
