// SPDX-License-Identifier: GPL-3.0-or-later
// Notices before water goes off: for each planned shut who is without water, the wordings filled
// in, door hangers, letters and call lists to look at and print, and that they were told, written
// down. A window that stands beside the Yard or the break's page.
#pragma once

#include "app/commands/notice_commands.h"

#include <QWidget>

#include <functional>

class QFormLayout;
class QLabel;
class QListWidget;
class QPushButton;
class QTableWidget;

namespace keyround {

class CheckedLine;
struct NoticePrint;

class NoticePanel final : public QWidget
{
    Q_OBJECT
public:
    NoticePanel(Session &session, std::vector<NoticeJob> jobs, QWidget *parent = nullptr);

    static NoticePanel *openBeside(QWidget *owner, Session &session, std::vector<NoticeJob> jobs);
    /// For the stops of a round; says so where nobody loses water.
    static NoticePanel *openForRound(QWidget *owner, Session &session, const RoundId &round);

    [[nodiscard]] QTableWidget *jobs() const { return m_table; }
    [[nodiscard]] CheckedLine *line(const QString &name) const;

private:
    [[nodiscard]] QWidget *buildLeft();
    [[nodiscard]] QWidget *buildRight();
    [[nodiscard]] QWidget *buildPaperRow();
    [[nodiscard]] QWidget *buildToldRow();
    CheckedLine *addLine(QFormLayout *form, const QString &label, const char *name,
                         std::function<Status(NoticeJob &, const QString &)> write);
    [[nodiscard]] NoticeJob *chosen();
    /// The ticked wordings of a kind.
    [[nodiscard]] NoticePrint printOf(NoticeForm form);
    void showJobs();
    void showChosen();
    void showWords();
    void preview(NoticeForm form);
    void saveCsv();
    void saveLog();
    void writeDown();
    void fillWordings();

    Session &m_session;
    std::vector<NoticeJob> m_jobs;
    QString m_why;
    QString m_how;
    int m_told = 0;
    QTableWidget *m_table;
    QTableWidget *m_people;
    QListWidget *m_wordings;
    QLabel *m_words;
    QLabel *m_lead;
    QLabel *m_given;
    QPushButton *m_write = nullptr;
    std::vector<std::pair<CheckedLine *, QString>> m_lines;
    std::vector<QPushButton *> m_needJob;
};

} // namespace keyround
