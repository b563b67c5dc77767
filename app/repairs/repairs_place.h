// SPDX-License-Identifier: GPL-3.0-or-later
// The repairs, beside the three places: the backlog with its ages, what visits show and nobody has
// asked for yet, what was sent, and the answers of a file before they are taken. At the right the
// request that is chosen.
#pragma once

#include "app/shell/session.h"
#include "core/repairs/repair_answers.h"

#include <QWidget>

class QCheckBox;
class QLabel;
class QLineEdit;
class QPushButton;
class QTabWidget;

namespace keyround {

class RequestModel;
class CalmComboBox;
class DataTable;
class ProposalModel;
class RequestCard;
class TextModel;

class RepairsPlace final : public QWidget
{
    Q_OBJECT
public:
    explicit RepairsPlace(Session &session, QWidget *parent = nullptr);

    /// Chooses the valve's open request, or what is proposed for it.
    void showValve(const ValveId &valve);
    void focusField();

Q_SIGNALS:
    void valveAsked(const ValveId &valve);

protected:
    void showEvent(QShowEvent *event) override;

private:
    [[nodiscard]] QWidget *buildHead();
    [[nodiscard]] QWidget *buildBacklog();
    [[nodiscard]] QWidget *buildProposals();
    [[nodiscard]] QWidget *buildAnswers();
    [[nodiscard]] QWidget *buildSendBar();
    void markStale();
    void reload();
    void showCounts();
    void takeProposals();
    /// The chosen requests; without a choice those that are shown and were not sent yet.
    [[nodiscard]] std::vector<RequestId> toSend() const;
    void refreshSend();
    void send(const QString &ending);
    void preview();
    void readAnswers();
    void lookAtAnswers();
    void takeAnswers();

    Session &m_session;
    RequestModel *m_backlog;
    ProposalModel *m_proposals;
    TextModel *m_sent;
    TextModel *m_answers;
    QLabel *m_sentence;
    QTabWidget *m_tabs;
    DataTable *m_backlogTable;
    DataTable *m_proposalTable;
    DataTable *m_sentTable;
    DataTable *m_answerTable;
    RequestCard *m_card;
    QCheckBox *m_withClosed = nullptr;
    QLineEdit *m_to = nullptr;
    QLabel *m_sendWords = nullptr;
    QPushButton *m_take = nullptr;
    QLabel *m_answerWords = nullptr;
    CalmComboBox *m_dates = nullptr;
    QPushButton *m_takeAnswers = nullptr;
    QString m_answerFile;
    AnswerPlan m_plan;
    bool m_isStale = true;
};

} // namespace keyround
