// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/connection.h"
#include "core/storage/migration.h"
#include "core/storage/raw_query.h"

#include <QTemporaryDir>
#include <QTest>

using namespace keyround;

class TestRawQuery : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase()
    {
        std::vector<Migration> migrations{shippedMigrations().front()};
        migrations.front().statements
            << QStringLiteral("CREATE TABLE odd (a, b, c)")
            << QStringLiteral("INSERT INTO odd VALUES ('Stra\u00dfe', 7, '7'), "
                              "(-9000000000000, NULL, '')");
        auto made =
            Connection::create(m_folder.filePath(QStringLiteral("town.keyround")), migrations);
        QVERIFY2(made, made ? "" : qPrintable(made.error().message));
        m_connection = std::move(*made);
    }

    void givesTheBytesThatAreThere()
    {
        QVERIFY(RawQuery::isPossible(m_connection->name()));
        auto query =
            RawQuery::prepare(m_connection->name(), "SELECT a, b, c FROM odd ORDER BY rowid");
        QVERIFY(query);
        QCOMPARE(*query->next(), true);
        QCOMPARE(query->bytes(0), QByteArrayView("Stra\xc3\x9f"
                                                 "e"));
        QCOMPARE(query->bytes(1), QByteArrayView("7"));
        QCOMPARE(query->bytes(2), QByteArrayView("7"));
        QCOMPARE(*query->next(), true);
        QCOMPARE(query->bytes(0), QByteArrayView("-9000000000000"));
        QVERIFY(query->bytes(1).isEmpty()); // NULL
        QVERIFY(query->bytes(2).isEmpty());
        QCOMPARE(*query->next(), false);
    }

    /// A text that looks like a number is none: a column that a flipped bit made a text is told.
    void onlyWholeNumbersAreNumbers()
    {
        auto query =
            RawQuery::prepare(m_connection->name(), "SELECT a, b, c FROM odd ORDER BY rowid");
        QVERIFY(query && *query->next());
        QCOMPARE(query->bigint(0, -1), -1);
        QCOMPARE(query->bigint(1, -1), 7);
        QCOMPARE(query->bigint(2, -1), -1);
        QVERIFY(*query->next());
        QCOMPARE(query->bigint(0, -1), -9'000'000'000'000LL);
        QCOMPARE(query->bigint(1, -1), -1);
    }

    void whatIsWrongIsSaid()
    {
        const auto query = RawQuery::prepare(m_connection->name(), "SELECT x FROM nowhere");
        QVERIFY(!query);
        QVERIFY2(query.error().message.contains(QStringLiteral("nowhere")),
                 qPrintable(query.error().message));
    }

    /// No connection of that name has a SQLite behind it.
    void impossibleWithoutADatabase()
    {
        QVERIFY(!RawQuery::isPossible(QStringLiteral("no such connection")));
    }

private:
    QTemporaryDir m_folder;
    std::unique_ptr<Connection> m_connection;
};

QTEST_GUILESS_MAIN(TestRawQuery)
#include "test_raw_query.moc"
