// SPDX-License-Identifier: GPL-3.0-or-later
// keyround-batch repairs from outside: the whole life of a request, from the visits of a file to
// the visit that proves it.
#include "tests/support/batch_run.h"
#include "tests/support/pdf_text.h"

#include <QFile>
#include <QJsonArray>
#include <QTemporaryDir>
#include <QTest>

namespace {

using Run = keyround::tests::BatchRun;
using keyround::tests::runBatch;

} // namespace

class TestBatchRepairs : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase()
    {
        QVERIFY(write("valves.csv", "number,latitude,longitude,size,type,turns\n"
                                    "V1,40.0,-150.0,8,gate,20\nV2,40.001,-150.0,8,gate,20\n"));
        QVERIFY(write("visits.csv",
                      "valve,date,turns closing,turns opening,problems\n"
                      "V1,2026-01-05,0,0,Could not operate\nV2,2026-01-05,20,20,Lid missing\n"));
        QVERIFY(write("later.csv", "valve,date,turns closing,turns opening,problems\n"
                                   "V1,2026-03-01,18,18,\n"));
        QCOMPARE(runBatch({QStringLiteral("create"), path("town.keyround")}).exitCode, 0);
        load("valves", "valves.csv");
        load("visits", "visits.csv");
    }

    void theWholeLife()
    {
        // Proposed, and nothing written.
        Run listed = repairs({"list", "--json", "-"});
        QCOMPARE(listed.json().value(QLatin1String("open")).toInt(-1), 0);
        QCOMPARE(listed.json().value(QLatin1String("proposed")).toArray().size(), 2);
        const Run dryOpen = repairs({"open", "--dry-run", "--json", "-"});
        QCOMPARE(dryOpen.exitCode, 0);
        QCOMPARE(dryOpen.json().value(QLatin1String("proposed")).toArray().size(), 2);
        QVERIFY(!dryOpen.json().contains(QLatin1String("recorded")));
        QCOMPARE(repairs({"list", "--json", "-"}).json().value(QLatin1String("open")).toInt(), 0);
        const Run opened = repairs({"open", "--on", "2026-01-06", "--json", "-"});
        QCOMPARE(opened.exitCode, 0);
        QCOMPARE(opened.json().value(QLatin1String("recorded")).toArray().size(), 2);
        QVERIFY(!opened.json().contains(QLatin1String("proposed")));
        listed = repairs({"list", "--json", "-", "--on", "2026-02-01"});
        QCOMPARE(listed.json().value(QLatin1String("open")).toInt(), 2);
        const QString number = field(listed, "V1", "number");
        QCOMPARE(number.size(), 13);
        QCOMPARE(field(listed, "V1", "urgency"), QStringLiteral("soon"));
        QCOMPARE(field(listed, "V2", "urgency"), QStringLiteral("urgent"));
        QCOMPARE(field(listed, "V2", "department"), QStringLiteral("Boxes and paving"));

        // Not planned while it is open.
        const Run due =
            runBatch({QStringLiteral("due"), QStringLiteral("--project"), path("town.keyround"),
                      QStringLiteral("--json"), QStringLiteral("-"), QStringLiteral("--on"),
                      QStringLiteral("2030-01-01")});
        QVERIFY2(due.out.contains(number), qPrintable(due.out));
        QCOMPARE(due.out.count(QStringLiteral("waiting_for_repair")), 2);

        // Sent.
        QCOMPARE(repairs({"send", "--csv", "sent.csv"}).exitCode, 2); // to whom?
        QCOMPARE(
            repairs({"send", "--to", "Desk (invented)", "--csv", "sent.csv", "--on", "2026-01-07"})
                .exitCode,
            0);
        const Run sent = repairs({"list", "--sent", "--json", "-"});
        QCOMPARE(sent.json().value(QLatin1String("sent")).toArray().size(), 2);
        QVERIFY(sent.out.contains(QStringLiteral("Desk (invented)")));
        QVERIFY(repairs({"send", "--to", "Desk", "--csv", "again.csv"})
                    .err.contains(QStringLiteral("no request waits")));
        QVERIFY(!QFile::exists(path("again.csv")));
        QCOMPARE(
            repairs({"send", "--to", "Desk", "--number", qPrintable(number), "--pdf", "one.pdf"})
                .exitCode,
            0);
        QVERIFY(keyround::tests::pdfText(path("one.pdf")).contains(number));
        QCOMPARE(keyround::tests::pdfPages(path("one.pdf")), 1);
        for (const char *ending : {"xlsx", "json"}) {
            const QByteArray option = QByteArray("--") + ending;
            const QByteArray file = QByteArray("all.") + ending;
            QCOMPARE(
                repairs({"send", "--all", "--to", "Desk", option.constData(), file.constData()})
                    .exitCode,
                0);
            QVERIFY(QFile(path(file.constData())).size() > 100);
        }

        // Answered.
        QVERIFY(write("answers.csv", "request,status,date,by,work,new install year,new turns\n" +
                                         number.toUtf8() +
                                         ",replaced,2026-02-10,Crew R,new valve,2026,18\n"
                                         "R26-AAAA-AAAA,done,2026-02-10,,,,\n"));
        const Run dry = repairs(
            {"answer", "--file", "answers.csv", "--dry-run", "--json", "-", "--on", "2026-02-11"});
        QCOMPARE(dry.json().value(QLatin1String("taken")).toInt(), 1);
        QCOMPARE(dry.json().value(QLatin1String("refused")).toInt(), 1);
        QCOMPARE(state("V1"), QStringLiteral("sent"));
        QCOMPARE(repairs({"answer", "--file", "answers.csv", "--on", "2026-02-11"}).exitCode, 0);
        QCOMPARE(state("V1"), QStringLiteral("done"));
        QVERIFY(repairs({"answer", "--file", "answers.csv"})
                    .err.contains(QStringLiteral("0 taken, 1 known already")));

        // Proved by a visit and a yes.
        QVERIFY(repairs({"prove", "--dry-run"}).out.isEmpty());
        load("visits", "later.csv");
        QCOMPARE(state("V1"), QStringLiteral("done"));
        QVERIFY(repairs({"prove"}).out.contains(QStringLiteral("V1")));
        QCOMPARE(state("V1"), QStringLiteral("proved"));

        // Withdrawn.
        const QByteArray second = field(repairs({"list", "--json", "-"}), "V2", "number").toUtf8();
        QCOMPARE(repairs({"withdraw", "--number", second.constData()}).exitCode, 2);
        QCOMPARE(
            repairs({"withdraw", "--number", second.constData(), "--why", "given up"}).exitCode, 0);
        QCOMPARE(state("V2"), QStringLiteral("withdrawn"));
        QCOMPARE(repairs({"withdraw", "--number", second.constData(), "--why", "again"}).exitCode,
                 1);
    }

    void wrongUse()
    {
        QCOMPARE(repairs({}).exitCode, 2);
        QCOMPARE(repairs({"mend"}).exitCode, 2);
        QCOMPARE(repairs({"send"}).exitCode, 2);
        QCOMPARE(repairs({"answer"}).exitCode, 2);
        QCOMPARE(repairs({"answer", "--file", "nowhere.csv"}).exitCode, 1);
        QCOMPARE(repairs({"list", "--valve", "V99"}).exitCode, 1);
        QCOMPARE(repairs({"list", "--number", "R26-1111-1111"}).exitCode, 1);
        QCOMPARE(repairs({"list", "--department", "nobody"}).exitCode, 1);
        QCOMPARE(repairs({"list", "--on", "soon"}).exitCode, 2);
    }

private:
    QTemporaryDir m_folder;

    [[nodiscard]] QString path(const char *name) const
    {
        return m_folder.filePath(QLatin1String(name));
    }
    bool write(const char *name, const QByteArray &text)
    {
        QFile file(path(name));
        return file.open(QIODevice::WriteOnly) && file.write(text) == text.size();
    }
    void load(const char *kind, const char *file)
    {
        const Run run = runBatch({QStringLiteral("load"), QLatin1String(kind), path(file),
                                  QStringLiteral("--project"), path("town.keyround")});
        QVERIFY2(run.exitCode == 0, qPrintable(run.err));
    }
    /// Options that name a file take it from the folder.
    Run repairs(const std::vector<const char *> &words)
    {
        QStringList arguments{QStringLiteral("repairs")};
        QString before;
        for (const char *word : words) {
            const QString text = QString::fromUtf8(word);
            const bool isFile = text != QLatin1String("-") &&
                                QStringList{QStringLiteral("--csv"), QStringLiteral("--xlsx"),
                                            QStringLiteral("--pdf"), QStringLiteral("--json"),
                                            QStringLiteral("--file")}
                                    .contains(before);
            arguments << (isFile ? m_folder.filePath(text) : text);
            before = text;
        }
        return runBatch(arguments << QStringLiteral("--project") << path("town.keyround"));
    }
    static QString field(const Run &run, const char *valve, const char *key)
    {
        for (const auto &each : run.json().value(QLatin1String("requests")).toArray()) {
            if (each[QLatin1String("valve")].toString() == QLatin1String(valve)) {
                return each[QLatin1String(key)].toString();
            }
        }
        return {};
    }
    QString state(const char *valve)
    {
        return field(repairs({"list", "--all", "--json", "-"}), valve, "state");
    }
};

QTEST_GUILESS_MAIN(TestBatchRepairs)
#include "test_batch_repairs.moc"
